#include "io/people_json.hpp"

#include "io/json.hpp"
#include "io/json_object.hpp"

namespace beetwright::io {
namespace {

/// Reads the one object of a request with `read(JsonObject&, Asked&)`.
template <class Asked, class Read>
Result<Asked> read_request(std::string_view text, Read&& read) {
    const auto parsed = parse_json(text, "");
    if (!parsed) {
        return parsed.problems();
    }
    JsonContext context{
        .file = "", .currency = "", .problems = {}, .format_page = "docs/formats/api.md"};
    Asked asked;
    {
        JsonObject object(*parsed, "", context);
        read(object, asked);
    }
    if (!context.problems.empty()) {
        return context.problems;
    }
    return asked;
}

Role read_role(JsonObject& object) {
    std::string word(word_of(Role::viewer));
    object.text("role", word);
    if (const auto role = role_named(word)) {
        return *role;
    }
    std::string known;
    for (const auto& named : kRoles) {
        known += (known.empty() ? "" : ", ") + std::string(named.word);
    }
    object.fail("role", "'" + word + "' is not a role", "write one of " + known);
    return Role::viewer;
}

Json shown(const PersonShown& person) {
    return {{"id", person.id},
            {"name", person.name},
            {"role", word_of(person.role)},
            {"active", person.active},
            {"created", to_text(person.created)}};
}

std::string written(const Json& json) {
    return json.lines() + "\n";
}

}  // namespace

Result<NameAndPassword> read_name_and_password(std::string_view text) {
    return read_request<NameAndPassword>(text, [](JsonObject& object, NameAndPassword& asked) {
        object.expect({"name", "password"});
        object.text("name", asked.name);
        object.text("password", asked.password);
    });
}

Result<PasswordChange> read_password_change(std::string_view text) {
    return read_request<PasswordChange>(text, [](JsonObject& object, PasswordChange& asked) {
        object.expect({"password", "new_password"});
        object.text("password", asked.password);
        object.text("new_password", asked.new_password);
    });
}

Result<PersonChange> read_person_change(std::string_view text) {
    return read_request<PersonChange>(text, [](JsonObject& object, PersonChange& asked) {
        if (object.has("role")) {
            asked.role = read_role(object);
        }
        if (object.has("active")) {
            asked.active = true;
            object.yes_or_no("active", *asked.active);
        }
        if (!asked.role && !asked.active) {
            object.fail("", "nothing is to be changed", "write role, active, or both");
        }
    });
}

Result<InvitationWish> read_invitation_wish(std::string_view text) {
    return read_request<InvitationWish>(text, [](JsonObject& object, InvitationWish& asked) {
        object.expect({"role"});
        asked.role = read_role(object);
        object.text("name_hint", asked.name_hint);
    });
}

std::string person_json(const PersonShown& person) {
    return written(shown(person));
}

std::string people_json(std::span<const PersonShown> people) {
    Json list = Json::array();
    for (const auto& person : people) {
        list.push_back(shown(person));
    }
    return written({{"people", std::move(list)}});
}

std::string invitation_json(const InvitationShown& invitation) {
    return written({{"role", word_of(invitation.role)},
                    {"name_hint", invitation.name_hint},
                    {"new_password", invitation.new_password},
                    {"expires", to_text(invitation.expires)}});
}

std::string invited_json(const std::string& link, Instant expires) {
    return written({{"link", link}, {"expires", to_text(expires)}});
}

std::string audit_json(std::span<const AuditShown> entries) {
    Json list = Json::array();
    for (const auto& entry : entries) {
        list.push_back({{"at", to_text(entry.at)},
                        {"person", entry.person.empty() ? Json() : Json(entry.person)},
                        {"what", entry.what},
                        {"about", entry.about}});
    }
    return written({{"audit", std::move(list)}});
}

}  // namespace beetwright::io
