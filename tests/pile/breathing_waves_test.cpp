// Beets that breathe more in some places of a section than in others.
#include <gtest/gtest.h>

#include <cmath>

#include "pile/plans.hpp"

namespace beetwright::pile {
namespace {

// Logarithms of 0.3 from flank to flank, 0.2 from the ground to the top and 0.1 of the middle: half
// a wave is 1 at its beginning, 0 in its middle and -1 at its end.
TEST(BreathingWaves, AreWhatTheirHeightsSay) {
    const BreathingWaves waves{.across = 0.3, .up = 0.2, .both = 0.0, .middle = 0.1};
    EXPECT_NEAR(waves.at(0.0, 0.0), std::exp(0.3 + 0.2 - 0.1), 1e-14);
    EXPECT_NEAR(waves.at(0.5, 0.5), std::exp(0.1), 1e-14);
    EXPECT_NEAR(waves.at(1.0, 1.0), std::exp(-0.3 - 0.2 - 0.1), 1e-14);
    EXPECT_NEAR((BreathingWaves{.both = 0.4}.at(1.0, 1.0)), std::exp(0.4), 1e-14);
    EXPECT_EQ(BreathingWaves{}.at(0.3, 0.7), 1.0);
}

// In the first hour all beets are as warm as they were piled, to a tenth of a kelvin: what a heap
// breathes goes by what its places do, and its sugar goes by the same.
TEST(BreathingWaves, AreBreathedAndTakeTheirSugar) {
    auto plan = heap();
    const auto breathed = [&](Bed& bed) {
        auto made = Pile::make(plan, central_pile());
        EXPECT_TRUE(made.ok());
        const auto hour = autumn_hour(0, 9.0, (*made)->grid().sides.size());
        EXPECT_TRUE((*made)->pass(hour).ok());
        bed = (*made)->bed();
        return (*made)->balance();
    };
    Bed even;
    const auto plain = breathed(even);
    plan.lots.back().uneven = {.across = 0.2, .up = 0.5, .both = 0.1, .middle = -0.2};
    Bed uneven;
    const auto waves = breathed(uneven);
    double beet = 0.0;
    double expected = 0.0;
    for (std::size_t c = uneven.box.begin(); c < uneven.box.end(); ++c) {
        beet += uneven.beet[c];
        expected += uneven.has_beet(c) ? uneven.beet[c] * uneven.breathes[c] : 0.0;
    }
    EXPECT_GT(std::abs(expected / beet - 1.0), 0.02) << "there is something to be seen";
    EXPECT_NEAR(waves.breathed / plain.breathed, expected / beet, 0.005);
    EXPECT_NEAR(waves.sugar_lost / plain.sugar_lost, expected / beet, 0.005);
}

}  // namespace
}  // namespace beetwright::pile
