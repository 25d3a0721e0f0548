// The exponential and the logarithm without a branch or a call, so that a loop over many of them
// runs in wide registers: the library's own are reckoned one by one.
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
    // By pairs of terms, pairs of pairs and so on: none of them waits for long for another.
    const double r2 = r * r;
    const double r4 = r2 * r2;
    const double from_0 = (1.0 + r) + r2 * (0.5 + r * (1.0 / 6.0));
    const double from_4 =
        (1.0 / 24.0 + r * (1.0 / 120.0)) + r2 * (1.0 / 720.0 + r * (1.0 / 5040.0));
    const double from_8 =
        (1.0 / 40320.0 + r * (1.0 / 362880.0)) + r2 * (1.0 / 3628800.0 + r * (1.0 / 39916800.0));
    const double from_12 = 1.0 / 479001600.0 + r * (1.0 / 6227020800.0);
    const double series = from_0 + r4 * (from_4 + r4 * (from_8 + r4 * from_12));
    // The rounded number stands in the lowest bits of `shifted`; moved up, it adds to the exponent.
    const auto doublings = std::bit_cast<std::uint64_t>(shifted) << 52U;
    return std::bit_cast<double>(std::bit_cast<std::uint64_t>(series) + doublings);
}

/// Natural logarithm of a positive number that is not denormal, good to 3e-16 absolutely or
/// relatively, whichever is more. x = m 2^k with m about 1, and ln m = 2 artanh((m - 1) / (m + 1))
/// by its series to the 19th power, whose rest is below 3e-17 there.
inline double logarithm(double x) {
    constexpr std::uint64_t kRootOfHalf = 0x3FE6A09E667F3BCDU;
    constexpr std::uint64_t kOne = 0x3FF0000000000000U;
    constexpr double kLn2High = 6.93147180369123816490e-01;
    constexpr double kLn2Low = 1.90821492927058770002e-10;
    // A whole number below 2^52 in the lowest bits of 2^52 is that number added to it.
    constexpr double kWhole = 4503599627370496.0;
    constexpr std::uint64_t kWholeBits = 0x4330000000000000U;
    const auto bits = std::bit_cast<std::uint64_t>(x);
    const std::uint64_t biased = (bits - kRootOfHalf + kOne) >> 52U;
    const double k = std::bit_cast<double>(biased | kWholeBits) - (kWhole + 1023.0);
    const double m = std::bit_cast<double>(bits - (biased << 52U) + kOne);
    const double s = (m - 1.0) / (m + 1.0);
    const double z = s * s;
    const double z2 = z * z;
    const double z4 = z2 * z2;
    const double from_0 = (1.0 / 3.0 + z * (1.0 / 5.0)) + z2 * (1.0 / 7.0 + z * (1.0 / 9.0));
    const double from_4 = (1.0 / 11.0 + z * (1.0 / 13.0)) + z2 * (1.0 / 15.0 + z * (1.0 / 17.0));
    const double series = from_0 + z4 * (from_4 + z4 * (1.0 / 19.0));
    return k * kLn2High + (2.0 * s + (2.0 * s * z * series + k * kLn2Low));
}

}  // namespace beetwright::num
