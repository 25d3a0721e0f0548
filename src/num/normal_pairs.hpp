// Chances of six pairs of standard normals that share one limit, to 1e-9: for loops over draws,
// where normal_pair_cdf() (distributions.hpp), which is right to the last digit, would take ten
// times as long.
//
// Owen's T by Gauss and Legendre's rule over what is even in its variable, and the normal's own
// chance by a quotient of polynomials (Hart et al. 1968, Computer Approximations, 5666); loops over
// a few dozen exponentials side by side, in the widest registers the processor has.
#pragma once

#include <array>
#include <cstddef>

namespace beetwright::num {

inline constexpr std::size_t kPairs = 6;

struct PairLimits {
    std::array<double, kPairs> x{};
    std::array<double, kPairs> correlation{};  ///< between -1 and 1
    double y = 0.0;                            ///< of all six
};
struct PairChances {
    std::array<double, kPairs> both{};  ///< P(X <= x and Y <= y)
    std::array<double, kPairs> x{};     ///< P(X <= x)
    double y = 0.0;                     ///< P(Y <= y)
};
PairChances pair_chances(const PairLimits& limits);

}  // namespace beetwright::num
