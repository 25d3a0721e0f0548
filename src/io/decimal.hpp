// Decimal numbers as programs write them: "-12.5e3", a point whatever the language.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace beetwright::io {

struct Decimal {
    double value = 0.0;      ///< the nearest double; finite
    std::size_t length = 0;  ///< characters that belong to it
};

/// The number that the text begins with; nothing where it begins with none, or with one too large.
/// "inf", "nan" and hexadecimal digits are not numbers here.
std::optional<Decimal> leading_decimal(std::string_view text);

/// The fewest digits that read back as the same finite number, without an exponent: "0.001".
std::string shortest_text(double number);
/// The nearest number of so many significant digits, 1 to 17.
double rounded_to_digits(double number, int significant);

}  // namespace beetwright::io
