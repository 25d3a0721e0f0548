// People, invitations and who did what, as browsers send and read them. docs/formats/api.md.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "base/role.hpp"
#include "base/time.hpp"

namespace beetwright::io {

struct NameAndPassword {
    std::string name;
    std::string password;
};
struct PasswordChange {
    std::string password;
    std::string new_password;
};
struct PersonChange {
    std::optional<Role> role;
    std::optional<bool> active;
};
struct InvitationWish {
    Role role = Role::viewer;
    std::string name_hint;  ///< may be left out
};

// Each reads one object strictly: a key that is not known, is missing or is of another kind is a
// problem.
Result<NameAndPassword> read_name_and_password(std::string_view text);
Result<PasswordChange> read_password_change(std::string_view text);
Result<PersonChange> read_person_change(std::string_view text);
Result<InvitationWish> read_invitation_wish(std::string_view text);

struct PersonShown {
    std::string id;
    std::string name;
    Role role = Role::viewer;
    bool active = true;
    Instant created;
};
struct AuditShown {
    Instant at;
    std::string person;  ///< empty: nobody who was signed in
    std::string what;
    std::string about;
};

/// What somebody who holds a link may know.
struct InvitationShown {
    Role role = Role::viewer;
    std::string name_hint;
    bool new_password = false;  ///< it is for whoever has this name, to choose a new password
    Instant expires;
};

std::string person_json(const PersonShown& person);
std::string people_json(std::span<const PersonShown> people);
std::string invitation_json(const InvitationShown& invitation);
/// What whoever invited gets: `link` is a path on this server.
std::string invited_json(const std::string& link, Instant expires);
std::string audit_json(std::span<const AuditShown> entries);

}  // namespace beetwright::io
