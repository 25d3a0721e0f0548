// The exponential without a branch or a call, so that a loop over many of them runs in wide
// registers: the library's own is reckoned one by one.
//
// x = n ln 2 + r with |r| <= ln 2 / 2; e^r by its series to the 13th power, whose rest is below
// 4e-18 there; 2^n by the exponent's bits. Good to 3 units in the last place for |x| <= 700.
#pragma once

#include <bit>
#include <cstdint>

namespace beetwright::num {

inline double exponential(double x) {
    constexpr double kPerLn2 = 1.4426950408889634;
    constexpr double kLn2High = 6.93147180369123816490e-01;  // its last bits are zero
    constexpr double kLn2Low = 1.90821492927058770002e-10;
    constexpr double kRounder =
        6755399441055744.0;  // 1.5 * 2^52: adding it rounds to whole numbers
    const double shifted = x * kPerLn2 + kRounder;
    const double n = shifted - kRounder;
    const double r = (x - n * kLn2High) - n * kLn2Low;
    double series = 1.0 / 6227020800.0;
    series = series * r + 1.0 / 479001600.0;
    series = series * r + 1.0 / 39916800.0;
    series = series * r + 1.0 / 3628800.0;
    series = series * r + 1.0 / 362880.0;
    series = series * r + 1.0 / 40320.0;
    series = series * r + 1.0 / 5040.0;
    series = series * r + 1.0 / 720.0;
    series = series * r + 1.0 / 120.0;
    series = series * r + 1.0 / 24.0;
    series = series * r + 1.0 / 6.0;
    series = series * r + 0.5;
    series = series * r + 1.0;
    series = series * r + 1.0;
    // The rounded number stands in the lowest bits of `shifted`; moved up, it adds to the exponent.
    const auto doublings = std::bit_cast<std::uint64_t>(shifted) << 52U;
    return std::bit_cast<double>(std::bit_cast<std::uint64_t>(series) + doublings);
}

}  // namespace beetwright::num
