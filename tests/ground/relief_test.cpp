#include "ground/relief.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "ground/wetness.hpp"

namespace beetwright::ground {
namespace {

Layer heights_of(const Grid& grid, double (*height)(double east, double north)) {
    Layer heights(grid.size());
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
        const auto at = grid.middle(cell);
        heights[cell] = height(at.east_m, at.north_m);
    }
    return heights;
}

// [10 11 12; 10 14 12; 9 10 12]: the middle stands 3.25 over the mean of the eight around it.
TEST(Relief, PositionOfThePublishedNineCells) {
    const Grid grid{{0.0, 0.0}, 0.0, 1.0, 3, 3};
    const Layer heights{9, 10, 12, 10, 14, 12, 10, 11, 12};
    EXPECT_NEAR(position_of(grid, heights, 0.9, 1.5)[4], 3.25, 1e-12);
}

TEST(Relief, ARingLeavesOutWhatIsNearer) {
    const Grid grid{{0.0, 0.0}, 0.0, 1.0, 41, 41};
    Layer heights(grid.size(), 2.0);
    for (std::size_t i = 18; i <= 22; ++i) {
        for (std::size_t j = 18; j <= 22; ++j) {
            heights[grid.at(i, j)] = 5.0;  // all of it within 3 m of the middle
        }
    }
    EXPECT_NEAR(position_of(grid, heights, 4.0, 10.0)[grid.at(20, 20)], 3.0, 1e-12);
    heights[grid.at(20, 26)] = std::nan("");  // a tree: not known, and not counted
    EXPECT_NEAR(position_of(grid, heights, 4.0, 10.0)[grid.at(20, 20)], 3.0, 1e-12);
}

TEST(Relief, APlaneHasItsSlopeEverywhereWhicheverWayTheRowsRun) {
    for (const double direction : {0.0, 0.4, 1.9}) {
        const Grid grid{{10.0, -5.0}, direction, 5.0, 30, 20};
        const auto heights =
            heights_of(grid, [](double east, double north) { return 0.03 * east - 0.04 * north; });
        for (const double slope : slope_of(grid, heights)) {
            EXPECT_NEAR(slope, 0.05, 1e-12);
        }
    }
}

// Horn's weights are of second order: of a sine wave the error falls to a quarter with half the
// cell.
TEST(Relief, SlopesConvergeInSecondOrder) {
    const auto error = [](double cell_m) {
        const auto cells = static_cast<std::size_t>(200.0 / cell_m);
        const Grid grid{{0.0, 0.0}, 0.3, cell_m, cells, cells};
        const auto heights = heights_of(grid, [](double east, double north) {
            return 3.0 * std::sin(east / 40.0) * std::cos(north / 50.0);
        });
        const auto slopes = slope_of(grid, heights);
        double worst = 0.0;
        for (std::size_t row = 1; row + 1 < cells; ++row) {
            for (std::size_t column = 1; column + 1 < cells; ++column) {
                const auto [east, north] = grid.middle(grid.at(column, row));
                const double exact =
                    std::hypot(3.0 / 40.0 * std::cos(east / 40.0) * std::cos(north / 50.0),
                               3.0 / 50.0 * std::sin(east / 40.0) * std::sin(north / 50.0));
                worst = std::max(worst, std::abs(slopes[grid.at(column, row)] - exact));
            }
        }
        return worst;
    };
    EXPECT_GT(std::log2(error(4.0) / error(2.0)), 1.8);
    EXPECT_GT(std::log2(error(2.0) / error(1.0)), 1.8);
}

// A tilted plane drains straight down: through a cell runs what lies above it, a cell's width of
// it.
TEST(Wetness, APlaneDrainsItsLength) {
    const Grid grid{{0.0, 0.0}, 0.0, 5.0, 60, 80};
    const auto heights = heights_of(grid, [](double east, double) { return -0.02 * east; });
    const auto drained = drained_by(grid, heights);
    const auto wetness = wetness_of(grid, heights);
    for (const std::size_t column : {0UL, 9UL, 20UL}) {
        const double length_m = 5.0 * static_cast<double>(column + 1);
        EXPECT_NEAR(drained[grid.at(column, 40)], length_m, 1e-6 * length_m);
        EXPECT_NEAR(wetness[grid.at(column, 40)], std::log(length_m / 0.02), 1e-6);
    }
}

// A cone sheds water evenly: through a metre of the circle of radius r runs pi r^2 / 2 pi r. Steps
// to eight neighbours go a longer way than straight, 1.05 of it on the average of all directions (8
// (sqrt 2 - 1) / pi), and parting among them strays further: never less than r/2, nor more than a
// fifth above, and twice as much at twice the radius.
TEST(Wetness, AConeShedsHalfItsRadius) {
    const Grid grid{{-400.0, -400.0}, 0.0, 4.0, 200, 200};
    const auto heights =
        heights_of(grid, [](double east, double north) { return -0.05 * std::hypot(east, north); });
    const auto drained = drained_by(grid, heights);
    const auto through = [&](double radius) {
        double sum = 0.0;
        int count = 0;
        for (std::size_t cell = 0; cell < grid.size(); ++cell) {
            const auto at = grid.middle(cell);
            if (std::abs(std::hypot(at.east_m, at.north_m) - radius) < 4.0) {
                sum += drained[cell];
                ++count;
            }
        }
        return sum / count;
    };
    for (const double radius : {80.0, 160.0, 320.0}) {
        EXPECT_GT(through(radius), 0.5 * radius);
        EXPECT_LT(through(radius), 1.2 * 0.5 * radius);
    }
    EXPECT_NEAR(through(320.0) / through(160.0), 2.0, 0.05);
}

TEST(Wetness, NoWaterIsLostOnItsWayToTheEdge) {
    // A bowl with a notch: all of it drains through there.
    const Grid grid{{-100.0, -100.0}, 0.0, 5.0, 40, 40};
    auto heights = heights_of(
        grid, [](double east, double north) { return 1e-3 * (east * east + north * north); });
    const auto full = filled(grid, heights);
    const auto drained = drained_by(grid, heights);
    double out = 0.0;
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
        EXPECT_GE(full[cell], heights[cell]);
        bool has_lower = false;
        const auto column = static_cast<int>(cell % 40);
        const auto row = static_cast<int>(cell / 40);
        for (int j = std::max(0, row - 1); j <= std::min(39, row + 1); ++j) {
            for (int i = std::max(0, column - 1); i <= std::min(39, column + 1); ++i) {
                has_lower =
                    has_lower ||
                    full[grid.at(static_cast<std::size_t>(i), static_cast<std::size_t>(j))] <
                        full[cell];
            }
        }
        if (!has_lower) {
            EXPECT_TRUE(column == 0 || row == 0 || column == 39 || row == 39);
            out += drained[cell];
        }
    }
    EXPECT_NEAR(out, 5.0 * 1600.0, 1e-6);
}

}  // namespace
}  // namespace beetwright::ground
