#include "io/decimal.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <version>

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

using Digits = std::array<char, 400>;  // the longest text of a double without exponent has 326

// The browser's standard library reads no doubles yet, and writes them with tables that would be a
// fifth of the engine; its C library does both, correctly rounded and with a point always.
#if defined(__cpp_lib_to_chars)
double read(std::string_view text) {
    double value = 0.0;
    const bool is_read =
        std::from_chars(text.data(), text.data() + text.size(), value).ec == std::errc{};
    return is_read ? value : HUGE_VAL;
}
std::string_view write_scientific(Digits& into, double number, int significant) {
    const auto wrote = std::to_chars(into.data(), into.data() + into.size(), number,
                                     std::chars_format::scientific, significant - 1);
    return {into.data(), wrote.ptr};
}
std::string_view write_shortest(Digits& into, double number) {
    const auto wrote =
        std::to_chars(into.data(), into.data() + into.size(), number, std::chars_format::fixed);
    return {into.data(), wrote.ptr};
}
#else
double read(std::string_view text) {
    return std::strtod(std::string(text).c_str(), nullptr);
}
std::string_view write_scientific(Digits& into, double number, int significant) {
    const int length = std::snprintf(into.data(), into.size(), "%.*e", significant - 1, number);
    return {into.data(), static_cast<std::size_t>(length)};
}
std::string_view write_shortest(Digits& into, double number) {
    int significant = 1;
    while (significant < 17 && rounded_to_digits(number, significant) != number) {
        ++significant;
    }
    const int above_point =
        number == 0.0 ? 1 : 1 + static_cast<int>(std::floor(std::log10(std::abs(number))));
    const int after_point = std::max(significant - above_point, 0);
    const int length = std::snprintf(into.data(), into.size(), "%.*f", after_point, number);
    std::string_view text(into.data(), static_cast<std::size_t>(length));
    if (after_point > 0) {
        text = text.substr(0, text.find_last_not_of('0') + 1);
        text = text.substr(0, text.find_last_not_of('.') + 1);
    }
    return text;
}
#endif

}  // namespace

std::optional<Decimal> leading_decimal(std::string_view text) {
    Decimal decimal{.length = length_of(text)};
    if (decimal.length == 0) {
        return std::nullopt;
    }
    decimal.value = read(text.substr(0, decimal.length));
    if (!std::isfinite(decimal.value)) {
        return std::nullopt;
    }
    return decimal;
}

std::string shortest_text(double number) {
    Digits digits{};
    return std::string(write_shortest(digits, number));
}

double rounded_to_digits(double number, int significant) {
    Digits digits{};
    return read(write_scientific(digits, number, significant));
}

}  // namespace beetwright::io
