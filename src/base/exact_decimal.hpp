// Decimals of doubles in whole numbers of any length: exact, small, and not quick. For the browser,
// whose standard library does not write or read doubles without tables that would be a fifth of the
// engine; everywhere else base/number_text.hpp has the standard library's.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace beetwright {

/// 0.digits times ten to the power of `point`. No zero stands first or last; no digits are nought.
struct ExactDecimal {
    std::string digits;
    int point = 0;
};

/// Of a finite number that is not negative.
ExactDecimal exact_decimal(double number);
/// To so many digits, the nearest; half-way to the even one. To none is to the nearest of nought
/// and ten to the power of `point`; to fewer is to nought.
ExactDecimal rounded(const ExactDecimal& exact, int digits);
/// The fewest digits that are nearer to this number than to any other.
ExactDecimal shortest_decimal(double number);
/// The nearest number to digits, which may begin or end with zeros, times ten to the power of
/// `exponent`; infinity if it is beyond the largest.
double nearest_number(std::string_view digits, int exponent);

}  // namespace beetwright
