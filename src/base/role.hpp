// What a person may do in a season. Each role may all that those before it may.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

namespace beetwright {

/// Kept in season files by number: never renumber.
enum class Role : std::uint8_t {
    viewer = 1,     ///< reads
    operator_ = 2,  ///< counts and records
    manager = 3,    ///< invites viewers and operators, sees who is there
    owner = 4,      ///< decides who may what
};

struct NamedRole {
    Role role;
    std::string_view word;
};
inline constexpr std::array<NamedRole, 4> kRoles{{{Role::viewer, "viewer"},
                                                  {Role::operator_, "operator"},
                                                  {Role::manager, "manager"},
                                                  {Role::owner, "owner"}}};

constexpr std::string_view word_of(Role role) {
    for (const auto& named : kRoles) {
        if (named.role == role) {
            return named.word;
        }
    }
    return "";
}

constexpr std::optional<Role> role_named(std::string_view word) {
    for (const auto& named : kRoles) {
        if (named.word == word) {
            return named.role;
        }
    }
    return std::nullopt;
}

}  // namespace beetwright
