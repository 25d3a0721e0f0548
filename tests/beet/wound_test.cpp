#include "beet/wound.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "base/random.hpp"

namespace beetwright::beet {
namespace {

// meran.se sugar-beet-surface-area [V]: 100 cm2 on a large root is 15 % of its surface, 90 cm2 on a
// small one 25 %, so 667 and 360 cm2.
TEST(Wounds, ShareOfTheSurface) {
    const Wounds large{.torn_skin = 100.0 * unit::cm2};
    EXPECT_NEAR(large.share_of(667.0 * unit::cm2), 0.15, 0.001);
    const Wounds small{.torn_skin = 90.0 * unit::cm2};
    EXPECT_NEAR(small.share_of(360.0 * unit::cm2), 0.25, 1e-12);
}

// A disc of 38 mm (common practice for a scalped crown, no source): pi 3.8^2 / 4 = 11.341 cm2.
TEST(Wounds, LevelCutIsADisc) {
    EXPECT_NEAR(disc(3.8 * unit::cm) / unit::cm2, 11.341, 1e-3);
    EXPECT_EQ(disc(Length(0.0)).si(), 0.0);
}

TEST(Wounds, SharesAddUpAndNeverPassTheWholeRoot) {
    for (std::uint64_t i = 0; i < 300; ++i) {
        RandomStream random(4, "wounds", i);
        const auto area = [&] { return 250.0 * random.uniform() * unit::cm2; };
        const Wounds all{area(), area(), area()};
        const Area surface = (300.0 + 300.0 * random.uniform()) * unit::cm2;
        const double sum = Wounds{.topping_cut = all.topping_cut}.share_of(surface) +
                           Wounds{.tail_break = all.tail_break}.share_of(surface) +
                           Wounds{.torn_skin = all.torn_skin}.share_of(surface);
        EXPECT_NEAR(all.share_of(surface), std::min(1.0, sum), 1e-12);
    }
}

}  // namespace
}  // namespace beetwright::beet
