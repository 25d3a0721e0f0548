#include "io/decimal.hpp"

#include <algorithm>
#include <cmath>

#include "base/number_text.hpp"

namespace beetwright::io {
namespace {

std::size_t digits_from(std::string_view text, std::size_t at) {
    const auto end = text.find_first_not_of("0123456789", at);
    return (end == std::string_view::npos ? text.size() : end) - std::min(at, text.size());
}

/// Characters of the number that the text begins with; 0 where there is none.
std::size_t length_of(std::string_view text) {
    std::size_t at = text.starts_with('-') ? 1 : 0;
    const std::size_t whole = digits_from(text, at);
    at += whole;
    if (at < text.size() && text[at] == '.') {
        const std::size_t after = digits_from(text, at + 1);
        if (whole + after == 0) {
            return 0;
        }
        at += 1 + after;
    } else if (whole == 0) {
        return 0;
    }
    if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) {
        const bool has_sign = at + 1 < text.size() && (text[at + 1] == '-' || text[at + 1] == '+');
        const std::size_t start = at + (has_sign ? 2 : 1);
        const std::size_t digits = digits_from(text, start);
        if (digits > 0) {
            at = start + digits;
        }
    }
    return at;
}

}  // namespace

std::optional<Decimal> leading_decimal(std::string_view text) {
    Decimal decimal{.length = length_of(text)};
    if (decimal.length == 0) {
        return std::nullopt;
    }
    decimal.value = read_number(text.substr(0, decimal.length));
    if (!std::isfinite(decimal.value)) {
        return std::nullopt;
    }
    return decimal;
}

double rounded_to_digits(double number, int significant) {
    return read_number(scientific_text(number, significant));
}

}  // namespace beetwright::io
