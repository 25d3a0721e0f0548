#include "ground/patches.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "driven.hpp"
#include "ground/prominence.hpp"
#include "ground/surface.hpp"

namespace beetwright::ground {
namespace {

/// A round knoll, or a hollow of a negative height, with flanks: half of its height is at
/// `radius_m`.
struct Bump {
    Point middle;
    double radius_m;
    double height_m;

    [[nodiscard]] double at(const Point& point) const {
        const double off =
            std::hypot(point.east_m - middle.east_m, point.north_m - middle.north_m) / radius_m;
        return height_m / (1.0 + std::pow(off, 6.0));
    }
    [[nodiscard]] double area_m2() const { return M_PI * radius_m * radius_m; }
};
const Bump kKnolls[] = {{{-90.0, 20.0}, 38.0, 1.6}, {{70.0, -60.0}, 30.0, 1.0}};
const Bump kHollow{{110.0, 60.0}, 34.0, -1.2};

double made_up(const Point& at) {
    return 150.0 + 0.02 * at.east_m - 0.01 * at.north_m + kKnolls[0].at(at) + kKnolls[1].at(at) +
           kHollow.at(at);
}

std::vector<Patch> found_on(const Drive& how) {
    const auto surface = surface_of(driven(how));
    EXPECT_TRUE(surface.ok());
    const auto out = prominence_of(surface->grid, surface->height_m, 120.0, 0.02);
    return patches_of(surface->grid, out, {});
}

void expect_all_three(const std::vector<Patch>& patches, double peak_tolerance = 0.1) {
    ASSERT_EQ(patches.size(), 3U);
    for (const auto& bump : {kKnolls[0], kKnolls[1], kHollow}) {
        const auto size = [&](const Patch& patch) {
            return static_cast<double>(patch.cells.size()) * 25.0;
        };
        const auto mine = std::ranges::find_if(patches, [&](const Patch& patch) {
            return (patch.lie == Lie::knoll) == (bump.height_m > 0.0) &&
                   std::abs(size(patch) - bump.area_m2()) < 0.1 * bump.area_m2();
        });
        ASSERT_NE(mine, patches.end()) << bump.radius_m;
        EXPECT_NEAR(mine->peak_m, std::abs(bump.height_m),
                    peak_tolerance * std::abs(bump.height_m));
    }
}

// Made-up relief: each is found where it is, its area within a tenth of that within half its
// height.
TEST(Patches, KnollsAndAHollowAreFoundWithTheirAreas) {
    Drive how;
    how.height = made_up;
    expect_all_three(found_on(how));
}

TEST(Patches, WhicheverWayTheFieldIsDriven) {
    for (const double direction : {0.0, 1.2, 2.3}) {
        Drive how;
        how.length_m = 420.0;
        how.breadth_m = 420.0;
        how.height = made_up;
        how.direction_rad = direction;
        expect_all_three(found_on(how));
    }
}

TEST(Patches, UnderADriftingReceiverToo) {
    Drive how;
    how.height = made_up;
    how.noise_m = 0.15;
    how.kind = FixKind::differential;
    how.drift = [](double since_s) {
        return 0.3 * std::sin(since_s / 900.0) + 0.15 * std::sin(since_s / 170.0);
    };
    expect_all_three(found_on(how), 0.15);  // a part of a top may be taken for drift
}

TEST(Patches, AFlatFieldHasNone) {
    Drive how;
    how.height = [](const Point& at) { return 150.0 + 0.02 * at.east_m; };
    EXPECT_TRUE(found_on(how).empty());
    how.noise_m = 0.3;  // a poor receiver makes none either
    EXPECT_TRUE(found_on(how).empty());
}

TEST(Patches, NarrowBanksAndSingleStonesAreNone) {
    const Grid grid{{0.0, 0.0}, 0.0, 5.0, 60, 40};
    Layer out(grid.size(), 0.0);
    for (std::size_t column = 0; column < 60; ++column) {
        out[grid.at(column, 20)] = 1.0;  // a bank of one cell
    }
    out[grid.at(10, 5)] = 2.0;
    EXPECT_TRUE(patches_of(grid, out, {}).empty());
}

TEST(Prominence, AKnollIsAsHighAsItIsOnASlope) {
    const Grid grid{{-200.0, -200.0}, 0.3, 5.0, 80, 80};
    Layer heights(grid.size());
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
        const auto at = grid.middle(cell);
        heights[cell] = 80.0 + 0.05 * at.east_m + Bump{grid.middle(40 * 80 + 40), 35.0, 1.5}.at(at);
    }
    const auto out = prominence_of(grid, heights, 120.0, 0.02);
    EXPECT_NEAR(out[40 * 80 + 40], 1.5, 0.02);
    EXPECT_NEAR(out[5 * 80 + 5], 0.0, 0.02);
}

}  // namespace
}  // namespace beetwright::ground
