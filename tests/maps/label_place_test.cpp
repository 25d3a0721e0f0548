#include "maps/label_place.hpp"

#include <gtest/gtest.h>

namespace beetwright::maps {
namespace {

TEST(LabelPlace, IsTheMiddleOfWhatIsPlain) {
    // Places lie a 24th of the side apart, so the middle is missed by up to half of that each way.
    const auto square = label_place({{{0, 0}, {240, 0}, {240, 240}, {0, 240}}, {}});
    EXPECT_NEAR(square.at.east_m, 120.0, 5.0);
    EXPECT_NEAR(square.at.north_m, 120.0, 5.0);
    EXPECT_NEAR(square.room_m, 120.0, 5.0);
    // A long one has room all along.
    const auto strip = label_place({{{0, 0}, {2400, 0}, {2400, 24}, {0, 24}}, {}});
    EXPECT_NEAR(strip.at.east_m, 1200.0, 50.0);
    EXPECT_NEAR(strip.room_m, 12.0, 0.5);
}

TEST(LabelPlace, LiesWithinAndInNoHole) {
    // An L whose middle is outside: its widest place is at the bend, 100 m wide each way.
    const auto bend =
        label_place({{{0, 0}, {1000, 0}, {1000, 100}, {100, 100}, {100, 1000}, {0, 1000}}, {}});
    EXPECT_LT(bend.at.east_m < 100.0 ? bend.at.east_m : bend.at.north_m, 100.0);
    EXPECT_GT(bend.room_m, 25.0);
    // A pond in the middle, 20 m from every side.
    const auto around = label_place(
        {{{0, 0}, {100, 0}, {100, 100}, {0, 100}}, {{{20, 20}, {20, 80}, {80, 80}, {80, 20}}}});
    const bool in_pond = around.at.east_m > 20.0 && around.at.east_m < 80.0 &&
                         around.at.north_m > 20.0 && around.at.north_m < 80.0;
    EXPECT_FALSE(in_pond);
    EXPECT_GT(around.room_m, 5.0);
    EXPECT_LT(around.room_m, 12.0);  // the most there is, in a corner: 20 (2 - sqrt 2) = 11.7
}

}  // namespace
}  // namespace beetwright::maps
