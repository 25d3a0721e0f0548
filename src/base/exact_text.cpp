#include "base/exact_text.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "base/exact_decimal.hpp"
#include "base/number_text.hpp"

namespace beetwright::exact {
namespace {

/// "e-05"
std::string exponent_text(int exponent) {
    return (exponent < 0 ? "e-" : "e+") + padded_text(std::abs(exponent), 2);
}

/// As people write it, with so many decimals.
std::string plain_text(const ExactDecimal& decimal, int decimals) {
    const int whole = std::max(decimal.point, 1);
    std::string text(static_cast<std::size_t>(whole + decimals), '0');
    const auto first = static_cast<std::size_t>(whole - decimal.point);
    if (first < text.size()) {
        text.replace(first, std::min(decimal.digits.size(), text.size() - first), decimal.digits);
    }
    if (decimals > 0) {
        text.insert(static_cast<std::size_t>(whole), 1, '.');
    }
    return text;
}

/// With an exponent and at least so many digits.
std::string exponent_form(const ExactDecimal& decimal, std::size_t digits) {
    auto text = decimal.digits;
    text.resize(std::max(text.size(), digits), '0');
    if (text.size() > 1) {
        text.insert(1, 1, '.');
    }
    return text + exponent_text(decimal.digits.empty() ? 0 : decimal.point - 1);
}

/// `write` puts the number without its sign.
template <class Write>
std::string with_sign(double number, Write&& write) {
    std::string text = std::signbit(number) ? "-" : "";
    if (!std::isfinite(number)) {
        return text + (std::isnan(number) ? "nan" : "inf");
    }
    return text + write(std::abs(number));
}

/// A number taken apart: its digits without the point, and the power of ten that they count.
struct Taken {
    std::string digits;
    int exponent = 0;
};

Taken take(std::string_view text) {
    // Beyond this all numbers are nought or infinity, however many digits stand before.
    constexpr int kFarthest = 1'000'000'000;
    Taken taken;
    const auto mark = std::min(text.find_first_of("eE"), text.size());
    const auto point = std::min(text.find('.'), mark);
    taken.digits = text.substr(0, point);
    if (point < mark) {
        taken.digits += text.substr(point + 1, mark - point - 1);
        taken.exponent = static_cast<int>(point + 1) - static_cast<int>(mark);
    }
    if (mark < text.size()) {
        auto power = text.substr(mark + 1);
        const bool is_negative = power.starts_with('-');
        if (is_negative || power.starts_with('+')) {
            power.remove_prefix(1);
        }
        std::int64_t tens = 0;
        for (const char digit : power) {
            tens = std::min<std::int64_t>(10 * tens + (digit - '0'), kFarthest);
        }
        taken.exponent += static_cast<int>(is_negative ? -tens : tens);
    }
    return taken;
}

}  // namespace

std::string fixed_text(double number, int decimals) {
    return with_sign(number, [&](double size) {
        const auto exact = exact_decimal(size);
        return plain_text(rounded(exact, exact.point + decimals), decimals);
    });
}

std::string general_text(double number, int digits) {
    return with_sign(number, [&](double size) {
        const auto decimal = rounded(exact_decimal(size), digits);
        constexpr int kFewest = -3;
        if (decimal.digits.empty()) {
            return std::string("0");
        }
        if (decimal.point < kFewest || decimal.point > digits) {
            return exponent_form(decimal, 1);
        }
        return plain_text(decimal,
                          std::max(0, static_cast<int>(decimal.digits.size()) - decimal.point));
    });
}

std::string scientific_text(double number, int digits) {
    return with_sign(number, [&](double size) {
        return exponent_form(rounded(exact_decimal(size), digits),
                             static_cast<std::size_t>(digits));
    });
}

std::string shortest_text(double number) {
    return with_sign(number, [](double size) {
        const auto decimal = shortest_decimal(size);
        const int decimals = static_cast<int>(decimal.digits.size()) - decimal.point;
        // Where it has more places than digits, all of them are given as they are.
        return decimals < 0 ? fixed_text(size, 0) : plain_text(decimal, decimals);
    });
}

std::string shortest_scientific_text(double number) {
    return with_sign(number, [](double size) { return exponent_form(shortest_decimal(size), 1); });
}

double read_number(std::string_view text) {
    const bool is_negative = text.starts_with('-');
    const auto [digits, exponent] = take(text.substr(is_negative ? 1 : 0));
    const double number = nearest_number(digits, exponent);
    return is_negative ? -number : number;
}

}  // namespace beetwright::exact
