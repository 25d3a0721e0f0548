// Clipped cells against the pile's own volume and faces, and against each other.
#include "pile/grid.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <numbers>

namespace beetwright::pile {
namespace {

Shape trapezoid() {
    return {.width = Length(20.0),
            .height = Length(4.0),
            .top_width = Length(9.0),
            .length = Length(31.0)};
}

double sum_above_ground(const Grid& grid) {
    double sum = 0.0;
    for (std::size_t c = grid.box.begin(); c < grid.box.end(); ++c) {
        sum += grid.is_ground(c) ? 0.0 : grid.volume[c];
    }
    return sum;
}

// Two prisms and a wedge: the unit cube cut by x + z <= 1 keeps half, a cut of root 2.
TEST(ClippedBox, HalfACube) {
    const double r = std::numbers::sqrt2 / 2.0;
    const std::array planes{Plane{{r, 0.0, r}, r}};
    const auto box = clip_box({0, 0, 0}, {1, 1, 1}, planes);
    EXPECT_NEAR(box.volume, 0.5, 1e-14);
    EXPECT_NEAR(box.cut[0], std::numbers::sqrt2, 1e-14);
    EXPECT_NEAR(box.low_side[0], 1.0, 1e-14);
    EXPECT_NEAR(box.high_side[0], 0.0, 1e-14);
    EXPECT_NEAR(box.low_side[1], 0.5, 1e-14);
    EXPECT_NEAR(box.centre[0], 1.0 / 3.0, 1e-14);
    EXPECT_NEAR(box.centre[1], 0.5, 1e-14);
}

// The corner cut off by x + y + z <= 1: a sixth of the cube, an equilateral triangle of side
// root 2.
TEST(ClippedBox, CornerOfACube) {
    const double r = 1.0 / std::sqrt(3.0);
    const std::array planes{Plane{{r, r, r}, r}};
    const auto box = clip_box({0, 0, 0}, {1, 1, 1}, planes);
    EXPECT_NEAR(box.volume, 1.0 / 6.0, 1e-14);
    EXPECT_NEAR(box.cut[0], std::sqrt(3.0) / 2.0, 1e-14);
    EXPECT_NEAR(box.centre[2], 0.25, 1e-14);
}

TEST(ClippedBox, OutsideNothingIsLeft) {
    const std::array planes{Plane{{1.0, 0.0, 0.0}, -0.5}};
    EXPECT_EQ(clip_box({0, 0, 0}, {1, 1, 1}, planes).volume, 0.0);
}

// Whatever the cells: the volume, the top and the flanks of the pile itself.
TEST(Grid, KeepsVolumeAndFaces) {
    const Shape shape = trapezoid();
    const double slant = std::hypot(5.5, 4.0);
    for (const double cell : {0.25, 0.37, 0.8, 1.7}) {
        const auto section =
            make_grid(shape, {.cell_across = Length(cell), .cell_up = Length(cell)});
        ASSERT_TRUE(section.ok());
        EXPECT_NEAR(sum_above_ground(*section), 0.5 * (20.0 + 9.0) * 4.0, 1e-9) << cell;
        std::map<Side, double> area;
        for (const auto& facet : section->facets) {
            area[section->sides[facet.side].side] += facet.area;
        }
        EXPECT_NEAR(area[Side::top], 9.0, 1e-9);
        EXPECT_NEAR(area[Side::low_flank], slant, 1e-9);
        EXPECT_NEAR(area[Side::high_flank], slant, 1e-9);
        EXPECT_EQ(area.count(Side::low_end), 0U);
        EXPECT_NEAR(area[Side::ground], 0.0, 1e-9);
    }
    for (const double cell : {0.8, 1.7}) {
        const auto whole = make_grid(shape, {.cell_across = Length(cell),
                                             .cell_up = Length(0.5),
                                             .cell_along = Length(1.3 * cell)});
        ASSERT_TRUE(whole.ok());
        EXPECT_NEAR(sum_above_ground(*whole), volume_of(shape), 1e-8) << cell;
        std::map<Side, double> area;
        for (const auto& facet : whole->facets) {
            area[whole->sides[facet.side].side] += facet.area;
        }
        EXPECT_NEAR(area[Side::top], 9.0 * 20.0, 1e-8);
        EXPECT_NEAR(area[Side::low_flank], slant * 0.5 * (31.0 + 20.0), 1e-8);
        EXPECT_NEAR(area[Side::high_end], slant * 0.5 * (20.0 + 9.0), 1e-8);
    }
}

// The surface of every cell closes: openings, base and facets, as vectors, add up to nothing. Then
// a uniform flow leaves nothing anywhere.
TEST(Grid, EveryCellCloses) {
    const auto grid =
        make_grid(trapezoid(),
                  {.cell_across = Length(0.9), .cell_up = Length(0.7), .cell_along = Length(1.1)});
    ASSERT_TRUE(grid.ok());
    std::vector<Point> sum(grid->box.room());
    constexpr std::array<std::size_t, 3> kAxis{2, 0, 1};
    for (std::size_t c = grid->box.begin(); c < grid->box.end(); ++c) {
        for (std::size_t d = 0; d < 3; ++d) {
            const std::size_t next = c + grid->box.stride(num::kEveryDirection[d]);
            sum[c][kAxis[d]] += grid->opening[d][c];
            if (grid->opening[d][c] > 0.0) {
                sum[next][kAxis[d]] -= grid->opening[d][c];
            }
        }
    }
    for (const auto& facet : grid->facets) {
        if (grid->sides[facet.side].side != Side::ground) {
            for (std::size_t a = 0; a < 3; ++a) {
                sum[facet.cell][a] += facet.area * grid->sides[facet.side].plane.outward[a];
            }
        }
    }
    for (std::size_t c = grid->box.begin(); c < grid->box.end(); ++c) {
        if (!grid->is_ground(c) && grid->volume[c] > 0.0) {
            for (std::size_t a = 0; a < 3; ++a) {
                ASSERT_NEAR(sum[c][a], 0.0, 1e-5) << c << " axis " << a;
            }
        }
    }
}

TEST(Grid, RoofHasNoTop) {
    auto shape = trapezoid();
    shape.top_width = Length(0.0);
    const auto grid = make_grid(shape, {});
    ASSERT_TRUE(grid.ok());
    EXPECT_NEAR(sum_above_ground(*grid), 40.0, 1e-9);
    for (const auto& facet : grid->facets) {
        EXPECT_NE(grid->sides[facet.side].side, Side::top);
    }
}

TEST(Grid, RefusesWhatIsNoPile) {
    auto shape = trapezoid();
    shape.height = Length(0.0);
    EXPECT_FALSE(make_grid(shape, {}).ok());
    shape = trapezoid();
    shape.top_width = Length(21.0);
    EXPECT_FALSE(make_grid(shape, {}).ok());
    shape = trapezoid();
    shape.top_width = Length(18.0);
    EXPECT_FALSE(make_grid(shape, {}).ok());  // flanks of 76 degrees
    shape = trapezoid();
    shape.length = Length(10.0);
    EXPECT_FALSE(make_grid(shape, {}).ok());
    EXPECT_FALSE(make_grid(trapezoid(), {.cell_across = Length(-1.0)}).ok());
    EXPECT_FALSE(
        make_grid(trapezoid(), {.cell_across = Length(0.001), .cell_up = Length(0.001)}).ok());
}

}  // namespace
}  // namespace beetwright::pile
