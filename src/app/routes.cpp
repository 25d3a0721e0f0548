#include "app/routes.hpp"

#include <set>
#include <string>

#include "app/answers.hpp"
#include "app/people_routes.hpp"
#include "engine/check_question.hpp"
#include "engine/ledger_question.hpp"
#include "engine/report_question.hpp"
#include "engine/settle_question.hpp"
#include "io/check_text.hpp"
#include "io/ledger_json.hpp"
#include "io/ledger_words.hpp"
#include "io/report_html.hpp"
#include "io/settle_text.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
using http::Request;
using http::Response;

/// The parameters after the question mark; those that nobody asks for are a problem, so that a
/// misspelt one is not passed over.
class Parameters {
 public:
    explicit Parameters(const Request& request) : query_(request.target.query) {}

    std::string text(const std::string& name) {
        known_.insert(name);
        const auto found = query_.find(name);
        return found == query_.end() ? std::string() : found->second;
    }
    std::optional<int> days(const std::string& name) {
        const auto words = text(name);
        if (words.empty()) {
            return std::nullopt;
        }
        const auto days = io::read_days(words);
        if (!days) {
            const auto& problem = days.problems().front();
            problems_.push_back(wrong_parameter(name, problem.what, problem.fix));
            return std::nullopt;
        }
        return *days;
    }
    std::optional<engine::GroupBy> group(const std::string& name) {
        const auto word = text(name);
        const auto group = io::group_of(word);
        if (!word.empty() && !group) {
            std::string words;
            for (const auto& known : io::group_words()) {
                words += (words.empty() ? "" : ", ") + std::string(known.word);
            }
            problems_.push_back(wrong_parameter(name, "'" + word + "' is not a way to group fields",
                                                "write one of " + words));
        }
        return group;
    }
    UnitSystem units(const std::string& name, UnitSystem otherwise) {
        const auto word = text(name);
        if (!word.empty() && word != "metric" && word != "us") {
            problems_.push_back(wrong_parameter(name, "'" + word + "' is not a system of units",
                                                "write metric or us"));
        }
        return word == "us" ? UnitSystem::us : word == "metric" ? UnitSystem::metric : otherwise;
    }

    /// Call when all have been asked for.
    [[nodiscard]] Problems problems() const {
        Problems all = problems_;
        for (const auto& [name, value] : query_) {
            if (!known_.contains(name)) {
                all.push_back(unknown_parameter(name));
            }
        }
        return all;
    }

 private:
    const std::map<std::string, std::string>& query_;
    std::set<std::string> known_;
    Problems problems_;
};

Response ledger(const ledger::Season& season, const Request& request) {
    Parameters parameters(request);
    engine::LedgerQuestion question;
    question.field = parameters.text("field");
    question.slice_after_days = parameters.days("slice_in");
    if (const auto by = parameters.group("by")) {
        question.groups.push_back(*by);
    }
    if (const auto problems = parameters.problems(); !problems.empty()) {
        return refused(problems);
    }
    WorkerPool pool(1);
    const auto answer = engine::ask(season, question, pool);
    return answer ? json(io::ledger_json(*answer, season.currency)) : refused(answer.problems());
}

Response check(const ledger::Season& season, const Request& request) {
    Parameters parameters(request);
    const auto field = parameters.text("field");
    if (const auto problems = parameters.problems(); !problems.empty()) {
        return refused(problems);
    }
    const auto answer = engine::ask_check(season, field);
    return answer ? json(io::check_json(*answer)) : refused(answer.problems());
}

Response settlement(const ledger::Season& season, const Request& request) {
    Parameters parameters(request);
    const auto field = parameters.text("field");
    if (const auto problems = parameters.problems(); !problems.empty()) {
        return refused(problems);
    }
    const auto answer = engine::ask_settle(season, field);
    return answer ? json(io::settle_json(*answer, season.currency)) : refused(answer.problems());
}

Response report(const ledger::Season& season, const Request& request) {
    Parameters parameters(request);
    const auto slice_after_days = parameters.days("slice_in");
    const auto units = parameters.units("units", season.units);
    if (const auto problems = parameters.problems(); !problems.empty()) {
        return refused(problems);
    }
    WorkerPool pool(1);
    const auto answer = engine::ask_report(season, slice_after_days, pool);
    if (!answer) {
        return refused(answer.problems());
    }
    // The page runs nothing and fetches nothing; a browser is told to hold it to that.
    return {.status = 200,
            .type = "text/html; charset=utf-8",
            .body = io::report_html(*answer, io::PeopleUnits(units, season.currency)),
            .headers = {{"Cache-Control", "no-store"},
                        {"Content-Security-Policy",
                         "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; "
                         "base-uri 'none'; form-action 'none'"},
                        {"Referrer-Policy", "no-referrer"}}};
}

}  // namespace

void add_reading_routes(Access& access, SeasonKeeper& keeper) {
    const auto reading = [&keeper](Response (*answer)(const ledger::Season&, const Request&)) {
        return [&keeper, answer](const Request& request, const PathValues&, const Person*) {
            const auto season = keeper.season();
            return season ? answer(**season, request) : refused(season.problems());
        };
    };
    access.add(Method::get, "/api/v1/ledger", Needs::viewer, reading(ledger));
    access.add(Method::get, "/api/v1/check", Needs::viewer, reading(check));
    access.add(Method::get, "/api/v1/settlement", Needs::viewer, reading(settlement));
    access.add(Method::get, "/report", Needs::viewer, reading(report));
    access.add(Method::get, "/", Needs::anyone,
               [](const Request&, const PathValues&, const Person*) {
                   return Response{.status = 303,
                                   .body = "The report is at /report.\n",
                                   .headers = {{"Location", "/report"}}};
               });
}

void add_watching_routes(Access& access, const Metrics& metrics,
                         std::function<std::size_t()> connections) {
    access.add(Method::get, "/healthz", Needs::anyone,
               [](const Request&, const PathValues&, const Person*) {
                   return Response{.body = "well\n", .headers = {}};
               });
    access.add(Method::get, "/metrics", Needs::anyone,
               [&metrics, connections = std::move(connections)](const Request& request,
                                                                const PathValues&, const Person*) {
                   if (!is_from_this_machine(request)) {
                       return refused(Problem{ProblemKind::denied,
                                              {},
                                              "this is told on the machine itself alone",
                                              "ask from there, by its loopback address"});
                   }
                   return Response{.type = "text/plain; version=0.0.4",
                                   .body = metrics.text(connections()),
                                   .headers = {}};
               });
}

void add_every_route(Access& access, const Served& served) {
    add_reading_routes(access, served.keeper);
    add_watching_routes(access, served.metrics, served.connections);
    if (served.people != nullptr) {
        add_people_routes(access, *served.people);
    } else {
        add_me_route(access);
    }
}

}  // namespace beetwright::app
