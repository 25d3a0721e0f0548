#include "ground/plane_area.hpp"

#include <gtest/gtest.h>

namespace beetwright::ground {
namespace {

const PlaneArea kFieldWithAPond{{{{0.0, 0.0}, {100.0, 0.0}, {100.0, 50.0}, {0.0, 50.0}},
                                 {{{10.0, 10.0}, {10.0, 20.0}, {30.0, 20.0}, {30.0, 10.0}}}},
                                {{{200.0, 0.0}, {210.0, 0.0}, {200.0, 10.0}}, {}}};

TEST(PlaneArea, HolesAreLeftOutAndPartsAreAdded) {
    EXPECT_DOUBLE_EQ(size_m2(kFieldWithAPond), 5000.0 - 200.0 + 50.0);
}

TEST(PlaneArea, APointIsInAPartAndInNoHole) {
    EXPECT_TRUE(contains(kFieldWithAPond, {5.0, 5.0}));
    EXPECT_FALSE(contains(kFieldWithAPond, {15.0, 15.0}));
    EXPECT_TRUE(contains(kFieldWithAPond, {202.0, 2.0}));
    EXPECT_FALSE(contains(kFieldWithAPond, {209.0, 9.0}));
    EXPECT_FALSE(contains(kFieldWithAPond, {150.0, 5.0}));
    EXPECT_FALSE(contains(kFieldWithAPond, {50.0, -1.0}));
}

TEST(PlaneArea, ItsBoxHoldsAllParts) {
    const auto box = bounds(kFieldWithAPond);
    EXPECT_EQ(box.least, (Point{0.0, 0.0}));
    EXPECT_EQ(box.most, (Point{210.0, 50.0}));
}

}  // namespace
}  // namespace beetwright::ground
