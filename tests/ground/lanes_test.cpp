#include "ground/lanes.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace beetwright::ground {
namespace {

/// 40 x 6 cells of 5 m: zone 2 in columns 10 to 19 of rows 2 to 4, all else zone 1.
struct Made {
    Grid grid{{100.0, 50.0}, 0.0, 5.0, 40, 6};
    ZoneLayer zones = ZoneLayer(240, 1);
    Made() {
        for (std::size_t row = 2; row < 5; ++row) {
            for (std::size_t column = 10; column < 20; ++column) {
                zones[grid.at(column, row)] = 2;
            }
        }
    }
};

TEST(Lanes, EachPassOverAZoneSwitchesTwice) {
    const Made made;
    const auto lanes = lanes_of(made.grid, made.zones, 3.0, 20.0);
    // Middles at 1.5, 4.5, ... 28.5 m; those between 10 and 25 m are
    // at 10.5, 13.5, 16.5, 19.5, 22.5.
    EXPECT_EQ(lanes.transitions.size(), 10U);
    EXPECT_DOUBLE_EQ(lanes.area_m2(2), 5 * 3.0 * 50.0);
    EXPECT_DOUBLE_EQ(lanes.area_m2(1) + lanes.area_m2(2), 200.0 * 30.0);
    const auto& first = lanes.transitions.front();
    EXPECT_EQ(first.lane, 3U);
    EXPECT_EQ(first.from, 1);
    EXPECT_EQ(first.to, 2);
    EXPECT_DOUBLE_EQ(first.at.east_m, 150.0);
    EXPECT_DOUBLE_EQ(first.at.north_m, 60.5);
}

TEST(Lanes, ShortStretchesGoWithTheirNeighbour) {
    Made made;
    made.zones[made.grid.at(30, 0)] = 2;  // 5 m on the way
    made.zones[made.grid.at(0, 1)] = 2;   // 5 m at the beginning
    const auto lanes = lanes_of(made.grid, made.zones, 5.0, 20.0);
    EXPECT_EQ(lanes.transitions.size(), 6U);
    for (const auto& stretch : lanes.stretches) {
        EXPECT_GE(stretch.to_m - stretch.from_m, 20.0);
    }
}

TEST(Lanes, GroundThatIsNotTheFieldPartsALaneWithoutASwitch) {
    Made made;
    for (std::size_t row = 0; row < 6; ++row) {
        made.zones[made.grid.at(15, row)] = 0;  // a ditch
    }
    const auto lanes = lanes_of(made.grid, made.zones, 5.0, 20.0);
    EXPECT_EQ(lanes.transitions.size(), 6U);
    EXPECT_DOUBLE_EQ(lanes.area_m2(1) + lanes.area_m2(2), 195.0 * 30.0);
}

}  // namespace
}  // namespace beetwright::ground
