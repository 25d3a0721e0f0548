// What a name and a password must be.
#pragma once

#include <optional>
#include <string>

#include "base/result.hpp"

namespace beetwright::app {

inline constexpr std::size_t kFewestPasswordLetters = 10;
inline constexpr std::size_t kMostPasswordBytes = 200;
inline constexpr std::size_t kMostNameBytes = 80;

/// What is wrong with a name that somebody wants; nothing where it will do.
std::optional<Problem> wrong_name(const char* field, const std::string& name);
/// The same of a password. No rules of composition: length is what helps.
std::optional<Problem> wrong_password(const char* field, const std::string& password);

}  // namespace beetwright::app
