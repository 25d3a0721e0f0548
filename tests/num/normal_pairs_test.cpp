// Chances of pairs reckoned quickly, held against those reckoned to the last digit.
#include "num/normal_pairs.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "base/random.hpp"
#include "num/distributions.hpp"

namespace beetwright::num {
namespace {

constexpr double kAgree = 1e-9;

TEST(NormalPairs, AgreeWithOwensTOverAllOfThePlane) {
    RandomStream random(1, "pairs");
    for (int i = 0; i < 5000; ++i) {
        PairLimits limits;
        limits.y = 3.0 * random.normal();
        for (std::size_t p = 0; p < kPairs; ++p) {
            limits.x[p] = 3.0 * random.normal();
            // Near to 1 and -1 as well, where roots are small.
            const double near = std::pow(10.0, -8.0 * random.uniform());
            limits.correlation[p] = p % 3 == 0   ? 2.0 * random.uniform() - 1.0
                                    : p % 3 == 1 ? 1.0 - near
                                                 : near - 1.0;
        }
        const auto chances = pair_chances(limits);
        EXPECT_NEAR(chances.y, normal_cdf(limits.y), kAgree);
        for (std::size_t p = 0; p < kPairs; ++p) {
            EXPECT_NEAR(chances.x[p], normal_cdf(limits.x[p]), kAgree);
            EXPECT_NEAR(chances.both[p],
                        normal_pair_cdf(limits.x[p], limits.y, limits.correlation[p]), kAgree)
                << limits.x[p] << ' ' << limits.y << ' ' << limits.correlation[p];
        }
    }
}

TEST(NormalPairs, HoldAtTheirEnds) {
    constexpr double kInfinite = std::numeric_limits<double>::infinity();
    const PairLimits limits{.x = {0.0, -0.0, kInfinite, -kInfinite, 60.0, -60.0},
                            .correlation = {0.4, -0.4, 0.4, 0.4, 1.0, -1.0},
                            .y = 0.7};
    const auto chances = pair_chances(limits);
    for (std::size_t p = 0; p < kPairs; ++p) {
        EXPECT_NEAR(chances.x[p], normal_cdf(limits.x[p]), kAgree) << p;
        EXPECT_NEAR(chances.both[p], normal_pair_cdf(limits.x[p], limits.y, limits.correlation[p]),
                    kAgree)
            << p;
    }
    const auto quadrant = pair_chances({.x = {0, 0, 0, 1, 2, 3}, .correlation = {0.5, 0, -0.5}});
    EXPECT_NEAR(quadrant.both[0], 1.0 / 3.0, 1e-15);  // 1/4 + asin(1/2) / 2 pi
    EXPECT_NEAR(quadrant.both[1], 0.25, 1e-15);
    EXPECT_NEAR(quadrant.both[2], 1.0 / 6.0, 1e-15);
}

}  // namespace
}  // namespace beetwright::num
