#include "ground/contours.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace beetwright::ground {
namespace {

/// 40 x 30 cells of 5 m, turned and off the middle.
const Grid kGrid{{-60.0, -40.0}, 0.4, 5.0, 40, 30};

template <class Height>
Layer layer(const Height& height) {
    Layer all(kGrid.size());
    for (std::size_t cell = 0; cell < all.size(); ++cell) {
        all[cell] = height(kGrid.middle(cell));
    }
    return all;
}

TEST(Contours, OfASlopeAreStraightAndOpen) {
    // Linear between cells, so the lines are exact: 2 m in 100 to the east.
    const auto lines =
        contours_of(kGrid, layer([](const Point& at) { return 0.02 * at.east_m; }), 0.5);
    ASSERT_FALSE(lines.empty());
    for (const auto& line : lines) {
        EXPECT_NEAR(std::remainder(line.height_m, 0.5), 0.0, 1e-12);
        ASSERT_GE(line.course.size(), 2U);
        for (const auto& at : line.course) {
            EXPECT_NEAR(at.east_m, line.height_m / 0.02, 1e-9);
        }
        EXPECT_GT(std::abs(line.course.front().north_m - line.course.back().north_m), 1.0);
    }
    // One line for each height between the lowest cell's middle and the highest.
    double least = 1e9;
    double most = -1e9;
    for (std::size_t cell = 0; cell < kGrid.size(); ++cell) {
        least = std::min(least, 0.02 * kGrid.middle(cell).east_m);
        most = std::max(most, 0.02 * kGrid.middle(cell).east_m);
    }
    const auto expected = std::floor(most / 0.5) - std::ceil(least / 0.5) + 1.0;
    EXPECT_EQ(static_cast<double>(lines.size()), expected);
}

TEST(Contours, OfAKnollAreClosedRounds) {
    const Point top = kGrid.middle(kGrid.at(20, 15));
    const auto away = [&](const Point& at) {
        return std::hypot(at.east_m - top.east_m, at.north_m - top.north_m);
    };
    const auto lines =
        contours_of(kGrid, layer([&](const Point& at) { return 101.2 - 0.1 * away(at); }), 2.0);
    std::vector<double> closed;
    for (const auto& line : lines) {
        const double radius = (101.2 - line.height_m) / 0.1;
        for (const auto& at : line.course) {
            // Between middles 5 m apart a round of this radius bends by up to 5^2 / 8r.
            EXPECT_NEAR(away(at), radius, 25.0 / (8.0 * radius));
        }
        const auto& first = line.course.front();
        const auto& last = line.course.back();
        if (first.east_m == last.east_m && first.north_m == last.north_m) {
            closed.push_back(line.height_m);
        }
    }
    // Rounds of 52, 32 and 12 m; the outermost middles are 70 m away, so that of 72 m is parted.
    const std::vector<double> expected{96.0, 98.0, 100.0};
    EXPECT_EQ(closed, expected);
    EXPECT_GT(lines.size(), expected.size());
}

TEST(Contours, ASaddleIsPartedByItsMiddle) {
    const Grid four{{0.0, 0.0}, 0.0, 1.0, 2, 2};
    // High at two corners across from each other; the middle is 0.45, then 0.55.
    for (const double low : {-0.1, 0.1}) {
        const auto lines = contours_of(four, {1.0, low, low, 1.0}, 0.5);
        std::size_t at_half = 0;
        for (const auto& line : lines) {
            if (line.height_m != 0.5) {
                continue;
            }
            ++at_half;
            ASSERT_EQ(line.course.size(), 2U);
            // Low ground in the middle: each line goes around a high corner, on one side of the
            // other diagonal; else around a low one.
            const auto along = [](const Point& at) { return at.east_m + at.north_m - 2.0; };
            const auto across = [](const Point& at) { return at.east_m - at.north_m; };
            const auto& first = line.course[0];
            const auto& last = line.course[1];
            EXPECT_EQ(along(first) * along(last) > 0.0, low < 0.0);
            EXPECT_EQ(across(first) * across(last) > 0.0, low > 0.0);
        }
        EXPECT_EQ(at_half, 2U);
    }
}

TEST(Contours, GroundThatIsNotKnownHasNone) {
    Layer flat(kGrid.size(), std::numeric_limits<double>::quiet_NaN());
    EXPECT_TRUE(contours_of(kGrid, flat, 1.0).empty());
    flat.assign(kGrid.size(), 12.3);
    EXPECT_TRUE(contours_of(kGrid, flat, 1.0).empty());
    auto slope = layer([](const Point& at) { return 0.02 * at.east_m; });
    const auto whole = contours_of(kGrid, slope, 0.5).size();
    for (std::size_t column = 0; column < kGrid.columns; ++column) {
        slope[kGrid.at(column, 15)] = std::numeric_limits<double>::quiet_NaN();
    }
    EXPECT_GT(contours_of(kGrid, slope, 0.5).size(), whole);  // parted by the strip
}

}  // namespace
}  // namespace beetwright::ground
