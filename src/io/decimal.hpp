// Decimal numbers as programs write them: "-12.5e3", a point whatever the language.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace beetwright::io {

struct Decimal {
    double value = 0.0;      ///< the nearest double; finite
    std::size_t length = 0;  ///< characters that belong to it
};

/// The number that the text begins with; nothing where it begins with none, or with one too large.
/// "inf", "nan" and hexadecimal digits are not numbers here.
std::optional<Decimal> leading_decimal(std::string_view text);

/// The nearest number of so many significant digits, 1 to 17.
double rounded_to_digits(double number, int significant);

}  // namespace beetwright::io
