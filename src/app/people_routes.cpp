#include "app/people_routes.hpp"

#include <algorithm>
#include <map>

#include "app/answers.hpp"
#include "io/people_json.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
using http::Request;
using http::Response;

/// Names and passwords are short; nobody makes us read megabytes of them.
constexpr std::size_t kMostBody = 16'384;

io::PersonShown shown(const Person& person) {
    return {.id = person.id.text(),
            .name = person.name,
            .role = person.role,
            .active = person.active,
            .created = person.created};
}

Response nothing_more(const Result<Done>& done) {
    return done ? json("{}\n") : refused(done.problems());
}

/// None of these routes asks for parameters, and none for a long body.
Access::Handler plain(Access::Handler handler) {
    return [handler = std::move(handler)](const Request& request, const PathValues& values,
                                          const Person* person) {
        Problems problems;
        for (const auto& [name, value] : request.target.query) {
            problems.push_back(unknown_parameter(name));
        }
        if (request.body.size() > kMostBody) {
            problems.push_back({ProblemKind::limit,
                                {},
                                "this is more than a name and a password",
                                "send at most 16 kB"});
        }
        return problems.empty() ? handler(request, values, person) : refused(problems);
    };
}

class PeopleRoutes {
 public:
    PeopleRoutes(Access& access, People& people) : access_(access), people_(people) {}

    /// The person, and the cookie that shows it from now on.
    [[nodiscard]] Response signed_in(const SignedIn& signed_in) const {
        auto response = json(io::person_json(shown(signed_in.person)));
        response.headers.push_back(access_.cookie(signed_in.token));
        return response;
    }
    /// Refused for a password that was wrong, or wrong too often.
    [[nodiscard]] Response password_refused(const Problems& problems, const std::string& name,
                                            const Request& request, int when_denied) const {
        if (problems.front().kind == ProblemKind::denied) {
            return refused(problems, when_denied);
        }
        if (problems.front().kind != ProblemKind::limit) {
            return refused(problems);
        }
        auto response = refused(problems, 429);
        const auto wait = people_.wait(name, access_.peer_of(request));
        response.headers.emplace_back("Retry-After", std::to_string(wait.count()));
        return response;
    }

    [[nodiscard]] Response sign_in(const Request& request) const {
        const auto asked = io::read_name_and_password(request.body);
        if (!asked) {
            return refused(asked.problems());
        }
        const auto done = people_.sign_in(asked->name, asked->password, access_.peer_of(request));
        return done ? signed_in(*done)
                    : password_refused(done.problems(), asked->name, request, 401);
    }
    /// Whoever asks, the browser forgets its cookie.
    [[nodiscard]] Response sign_out(const Request& request) const {
        auto response = nothing_more(people_.sign_out(std::string(request.cookie(kSessionCookie))));
        response.headers.push_back(access_.cookie(""));
        return response;
    }
    [[nodiscard]] Response sign_out_everywhere(const Person& person) const {
        auto response = nothing_more(people_.sign_out_everywhere(person));
        response.headers.push_back(access_.cookie(""));
        return response;
    }
    [[nodiscard]] Response change_password(const Request& request, const Person& person) const {
        const auto asked = io::read_password_change(request.body);
        if (!asked) {
            return refused(asked.problems());
        }
        const auto done = people_.change_password(person, asked->password, asked->new_password,
                                                  std::string(request.cookie(kSessionCookie)),
                                                  access_.peer_of(request));
        return done ? json("{}\n") : password_refused(done.problems(), person.name, request, 403);
    }

    [[nodiscard]] Response list() const {
        const auto people = people_.everybody();
        if (!people) {
            return refused(people.problems());
        }
        std::vector<io::PersonShown> all;
        for (const auto& person : *people) {
            all.push_back(shown(person));
        }
        return json(io::people_json(all));
    }
    [[nodiscard]] Response change(const Request& request, const std::string& id,
                                  const Person& by) const {
        const auto asked = io::read_person_change(request.body);
        if (!asked) {
            return refused(asked.problems());
        }
        // What is no id is nobody's.
        const auto changed =
            people_.change(Uuid::parse(id).value_or(Uuid()), asked->role, asked->active, by);
        return changed ? json(io::person_json(shown(*changed))) : refused(changed.problems());
    }

    [[nodiscard]] Response link_for_password(const std::string& id, const Person& by) const {
        return link(people_.link_for_password(Uuid::parse(id).value_or(Uuid()), by));
    }

    [[nodiscard]] Response invite(const Request& request, const Person& by) const {
        const auto asked = io::read_invitation_wish(request.body);
        if (!asked) {
            return refused(asked.problems());
        }
        return link(people_.invite(asked->role, asked->name_hint, by));
    }
    [[nodiscard]] Response greet(const std::string& token) const {
        const auto found = people_.invitation(token);
        return found ? json(io::invitation_json({.role = found->role,
                                                 .name_hint = found->name_hint,
                                                 .new_password = !found->person.is_nil(),
                                                 .expires = found->expires}))
                     : refused(found.problems());
    }
    [[nodiscard]] Response join(const Request& request, const std::string& token) const {
        const auto asked = io::read_name_and_password(request.body);
        if (!asked) {
            return refused(asked.problems());
        }
        const auto joined = people_.accept(token, asked->name, asked->password);
        return joined ? signed_in(*joined) : refused(joined.problems());
    }

    [[nodiscard]] Response audit() const {
        const auto entries = people_.audit();
        const auto people = people_.everybody();
        if (!entries || !people) {
            return refused(entries ? people.problems() : entries.problems());
        }
        std::map<Uuid, std::string> names;
        for (const auto& person : *people) {
            names.emplace(person.id, person.name);
        }
        std::vector<io::AuditShown> all;
        for (const auto& entry : *entries) {
            const auto name = names.find(entry.person);
            all.push_back({.at = entry.at,
                           .person = name == names.end() ? "" : name->second,
                           .what = entry.what,
                           .about = entry.about});
        }
        return json(io::audit_json(all));
    }

 private:
    static Response link(const Result<Invited>& made) {
        return made ? json(io::invited_json("/#/join/" + made->token, made->expires))
                    : refused(made.problems());
    }

    Access& access_;
    People& people_;
};

/// Letters of a token, of which it has 43 in a row.
constexpr std::string_view kTokenLetters =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
constexpr std::size_t kTokenLength = 43;

}  // namespace

std::string without_tokens(std::string_view target) {
    std::string kept;
    while (!target.empty()) {
        const auto run = std::min(target.find_first_not_of(kTokenLetters), target.size());
        kept += run < kTokenLength ? target.substr(0, run) : std::string_view("...");
        target.remove_prefix(run);
        kept += target.substr(0, 1);
        target.remove_prefix(std::min<std::size_t>(1, target.size()));
    }
    return kept;
}

void add_me_route(Access& access) {
    access.add(Method::get, "/api/v1/me", Needs::viewer,
               plain([](const Request&, const PathValues&, const Person* person) {
                   return json(io::person_json(shown(*person)));
               }));
}

void add_people_routes(Access& access, People& people) {
    const PeopleRoutes routes(access, people);
    const auto add = [&](Method method, const char* pattern, Needs needs, Access::Handler handler) {
        access.add(method, pattern, needs, plain(std::move(handler)));
    };
    add_me_route(access);
    add(Method::post, "/api/v1/session", Needs::anyone,
        [=](const Request& r, const PathValues&, const Person*) { return routes.sign_in(r); });
    add(Method::remove, "/api/v1/session", Needs::anyone,
        [=](const Request& r, const PathValues&, const Person*) { return routes.sign_out(r); });
    add(Method::post, "/api/v1/me/password", Needs::viewer,
        [=](const Request& r, const PathValues&, const Person* person) {
            return routes.change_password(r, *person);
        });
    add(Method::remove, "/api/v1/me/sessions", Needs::viewer,
        [=](const Request&, const PathValues&, const Person* person) {
            return routes.sign_out_everywhere(*person);
        });
    add(Method::get, "/api/v1/people", Needs::manager,
        [=](const Request&, const PathValues&, const Person*) { return routes.list(); });
    add(Method::put, "/api/v1/people/{id}", Needs::owner,
        [=](const Request& r, const PathValues& values, const Person* person) {
            return routes.change(r, values.at("id"), *person);
        });
    add(Method::post, "/api/v1/people/{id}/link", Needs::owner,
        [=](const Request&, const PathValues& values, const Person* person) {
            return routes.link_for_password(values.at("id"), *person);
        });
    add(Method::post, "/api/v1/invitations", Needs::manager,
        [=](const Request& r, const PathValues&, const Person* person) {
            return routes.invite(r, *person);
        });
    add(Method::get, "/api/v1/invitations/{token}", Needs::anyone,
        [=](const Request&, const PathValues& values, const Person*) {
            return routes.greet(values.at("token"));
        });
    add(Method::post, "/api/v1/invitations/{token}", Needs::anyone,
        [=](const Request& r, const PathValues& values, const Person*) {
            return routes.join(r, values.at("token"));
        });
    add(Method::get, "/api/v1/audit", Needs::owner,
        [=](const Request&, const PathValues&, const Person*) { return routes.audit(); });
}

}  // namespace beetwright::app
