#include "app/credentials.hpp"

#include <algorithm>

namespace beetwright::app {
namespace {

Problem wrong_field(const char* field, std::string what, std::string fix) {
    return {ProblemKind::input,
            {.file = "", .line = 0, .field = field},
            std::move(what),
            std::move(fix)};
}

std::size_t letters(const std::string& text) {
    return static_cast<std::size_t>(std::ranges::count_if(
        text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

}  // namespace

std::optional<Problem> wrong_name(const char* field, const std::string& name) {
    const bool has_control = std::ranges::any_of(
        name, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; });
    const bool is_padded = !name.empty() && (name.front() == ' ' || name.back() == ' ');
    if (name.empty() || name.size() > kMostNameBytes || has_control || is_padded) {
        return wrong_field(field, "this cannot be a name",
                           "write 1 to " + std::to_string(kMostNameBytes) +
                               " letters on one line, without a space before or after");
    }
    return std::nullopt;
}

std::optional<Problem> wrong_password(const char* field, const std::string& password) {
    if (letters(password) < kFewestPasswordLetters) {
        return wrong_field(field, "this password is too short",
                           "use at least " + std::to_string(kFewestPasswordLetters) +
                               " letters; a few words in a row do well");
    }
    if (password.size() > kMostPasswordBytes) {
        return wrong_field(field, "this password is too long",
                           "use at most " + std::to_string(kMostPasswordBytes) + " bytes");
    }
    return std::nullopt;
}

}  // namespace beetwright::app
