#include "pile/grid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

namespace beetwright::pile {
namespace {

using num::Direction;

constexpr double kLayerGrowth = 1.5;
constexpr double kSliver = 1e-6;  ///< of a cell's volume: less is not there
/// A clipped cell's centre is not nearer to its face or its neighbour than this share of a cell.
constexpr double kNearest = 0.1;

/// Where `num::Direction` points: the axes are across, along, up.
constexpr std::size_t axis(Direction direction) {
    switch (direction) {
        case Direction::up: return 2;
        case Direction::across: return 0;
        case Direction::along: return 1;
    }
    return 0;
}

std::size_t cells_over(double length, double cell) {
    return static_cast<std::size_t>(std::max(1.0, std::round(length / cell)));
}

Problem grid_problem(const char* field, std::string what, const char* fix) {
    return {ProblemKind::input, {.file = "", .line = 0, .field = field}, std::move(what), fix};
}

Problems problems_of(const Shape& shape, const GridSpec& spec, bool is_section) {
    Problems problems;
    const auto too_coarse = [&](const char* field, double cell, double length) {
        if (!(cell > 0.0 && cell <= 0.5 * length)) {
            problems.push_back(grid_problem(field,
                                            "a cell is not above 0 and at most half the pile",
                                            "give cells of a fraction of a metre"));
        }
    };
    too_coarse("cell_across", spec.cell_across.si(), shape.width.si());
    too_coarse("cell_up", spec.cell_up.si(), shape.height.si());
    if (!is_section) {
        too_coarse("cell_along", spec.cell_along.si(), shape.length.si());
    }
    if (spec.ground_layers > 0 && !(spec.top_ground_layer.si() > 0.0)) {
        problems.push_back(grid_problem("top_ground_layer", "a layer of ground has no thickness",
                                        "give some centimetres, or no layers"));
    }
    if (!problems.empty()) {
        return problems;
    }
    const double count = shape.width / spec.cell_across * (shape.height / spec.cell_up) *
                         (is_section ? 1.0 : shape.length / spec.cell_along);
    if (count > static_cast<double>(kMostCells)) {
        problems.push_back(
            {ProblemKind::limit,
             {.file = "", .line = 0, .field = "cell_across"},
             "the pile would have more than " + std::to_string(kMostCells) + " cells",
             "give larger cells"});
    }
    return problems;
}

/// The sides that cuts and the ground look with, behind those of the shape.
void add_inner_sides(Grid& grid, double facing) {
    constexpr double kTurn = 0.5 * std::numbers::pi;
    const auto add = [&](Point outward, double tilt, double azimuth) {
        grid.sides.push_back({Side::cut, {outward, 0.0}, tilt, azimuth});
    };
    add({0.0, 0.0, 1.0}, 0.0, facing);
    add({-1.0, 0.0, 0.0}, kTurn, facing + 2.0 * kTurn);
    add({1.0, 0.0, 0.0}, kTurn, facing);
    add({0.0, -1.0, 0.0}, kTurn, facing + kTurn);
    add({0.0, 1.0, 0.0}, kTurn, facing - kTurn);
    grid.sides.push_back({Side::ground, {{0.0, 0.0, 1.0}, 0.0}, 0.0, facing});
}

struct Clipped {
    std::vector<ClippedBox> cells;  ///< by box index; the ground's are not used
};

Clipped clip_all(const Grid& grid, std::span<const Plane> planes) {
    Clipped all;
    all.cells.resize(grid.box.room());
    for (std::size_t j = 0; j < grid.box.along; ++j) {
        for (std::size_t i = 0; i < grid.box.across; ++i) {
            for (std::size_t k = grid.ground_layers; k < grid.box.up; ++k) {
                const double bottom = grid.layer_bottom[k];
                const Point low{static_cast<double>(i) * grid.cell[0],
                                static_cast<double>(j) * grid.cell[1], bottom};
                const Point high{static_cast<double>(i + 1) * grid.cell[0],
                                 static_cast<double>(j + 1) * grid.cell[1],
                                 bottom + grid.layer_height[k]};
                all.cells[grid.box.index(i, j, k)] = clip_box(low, high, planes);
            }
        }
    }
    return all;
}

/// The side of the shape that a box's side lies in: the one that looks most that way.
std::size_t touching_side(const Grid& grid, std::size_t shape_sides, Direction direction,
                          bool high_end) {
    std::size_t best = 0;
    for (std::size_t s = 0; s < shape_sides; ++s) {
        const double sign = high_end ? 1.0 : -1.0;
        if (sign * grid.sides[s].plane.outward[axis(direction)] >
            sign * grid.sides[best].plane.outward[axis(direction)]) {
            best = s;
        }
    }
    return best;
}

class Builder {
 public:
    Builder(const Shape& shape, const GridSpec& spec, std::vector<ShapeSide> sides,
            bool is_section) {
        grid_.box = {.across = cells_over(shape.width.si(), spec.cell_across.si()),
                     .along = is_section ? 1 : cells_over(shape.length.si(), spec.cell_along.si()),
                     .up = spec.ground_layers + cells_over(shape.height.si(), spec.cell_up.si())};
        grid_.ground_layers = spec.ground_layers;
        const auto over = [](double length, std::size_t cells) {
            return length / static_cast<double>(cells);
        };
        grid_.cell = {over(shape.width.si(), grid_.box.across),
                      is_section ? 1.0 : over(shape.length.si(), grid_.box.along),
                      over(shape.height.si(), grid_.box.up - spec.ground_layers)};
        shape_sides_ = sides.size();
        for (const auto& side : sides) {
            planes_.push_back(side.plane);
        }
        grid_.sides = std::move(sides);
        add_inner_sides(grid_, shape.facing);
        lay_layers(spec.top_ground_layer.si());
        for (auto* fields : {&grid_.centre, &grid_.opening, &grid_.distance}) {
            for (auto& field : *fields) {
                field = grid_.box.field();
            }
        }
        grid_.volume = grid_.box.field();
    }

    Grid build() {
        const auto clipped = clip_all(grid_, planes_);
        fill_cells(clipped);
        for (std::size_t d = 0; d < grid_.box.directions(); ++d) {
            open(num::kEveryDirection[d], clipped);
        }
        for (std::size_t c = grid_.box.begin(); c < grid_.box.end(); ++c) {
            if (!grid_.is_ground(c) && grid_.volume[c] > 0.0) {
                add_cuts(c, clipped.cells[c]);
            }
        }
        cover_rest_of_ground();
        return std::move(grid_);
    }

 private:
    void lay_layers(double top_thickness) {
        double bottom = 0.0;
        double thickness = top_thickness;
        std::vector<double> heights;
        for (std::size_t k = 0; k < grid_.ground_layers; ++k, thickness *= kLayerGrowth) {
            bottom -= thickness;
            heights.push_back(thickness);
        }
        std::ranges::reverse(heights);
        heights.resize(grid_.box.up, grid_.cell[2]);
        for (const double height : heights) {
            grid_.layer_bottom.push_back(bottom);
            grid_.layer_height.push_back(height);
            bottom += height;
        }
    }

    void fill_cells(const Clipped& clipped) {
        const double floor = grid_.cell[0] * grid_.cell[1];
        for (std::size_t c = grid_.box.begin(); c < grid_.box.end(); ++c) {
            const std::size_t k = (c - grid_.box.begin()) % grid_.box.up;
            const std::size_t column = (c - grid_.box.begin()) / grid_.box.up;
            const double whole = floor * grid_.layer_height[k];
            Point middle{(static_cast<double>(column % grid_.box.across) + 0.5) * grid_.cell[0],
                         (static_cast<double>(column / grid_.box.across) + 0.5) * grid_.cell[1],
                         grid_.layer_bottom[k] + 0.5 * grid_.layer_height[k]};
            if (grid_.is_ground(c)) {
                grid_.volume[c] = whole;
            } else if (clipped.cells[c].volume > kSliver * whole) {
                grid_.volume[c] = clipped.cells[c].volume;
                middle = clipped.cells[c].centre;
            }
            for (std::size_t d = 0; d < 3; ++d) {
                grid_.centre[d][c] = middle[d];
            }
        }
    }

    double side_area(const Clipped& clipped, std::size_t c, Direction direction, bool high) const {
        if (grid_.volume[c] == 0.0) {
            return 0.0;
        }
        if (grid_.is_ground(c)) {
            const std::size_t k = (c - grid_.box.begin()) % grid_.box.up;
            const std::array<double, 3> edges{grid_.cell[0], grid_.cell[1], grid_.layer_height[k]};
            const std::size_t a = axis(direction);
            return edges[(a + 1) % 3] * edges[(a + 2) % 3];
        }
        const auto& cell = clipped.cells[c];
        return (high ? cell.high_side : cell.low_side)[axis(direction)];
    }

    void open(Direction direction, const Clipped& clipped) {
        const auto d = static_cast<std::size_t>(direction);
        const std::size_t stride = grid_.box.stride(direction);
        for (std::size_t c = grid_.box.begin(); c < grid_.box.end(); ++c) {
            const bool is_last = position(c, direction) + 1 == grid_.box.count(direction);
            const double here = side_area(clipped, c, direction, true);
            const double there = is_last ? 0.0 : side_area(clipped, c + stride, direction, false);
            grid_.opening[d][c] = std::min(here, there);
            if (!is_last) {
                const double apart =
                    grid_.centre[axis(direction)][c + stride] - grid_.centre[axis(direction)][c];
                grid_.distance[d][c] = std::max(apart, kNearest * grid_.cell[axis(direction)]);
            }
            // A plane that lies in cells' sides cuts none of them: the side itself is the face.
            add_side(c, direction, true, here - grid_.opening[d][c]);
            if (!is_last) {
                add_side(c + stride, direction, false, there - grid_.opening[d][c]);
            }
            if (position(c, direction) == 0) {
                add_side(c, direction, false, side_area(clipped, c, direction, false));
            }
        }
    }

    std::size_t position(std::size_t c, Direction direction) const {
        return (c - grid_.box.begin()) / grid_.box.stride(direction) % grid_.box.count(direction);
    }

    void add_side(std::size_t c, Direction direction, bool high_end, double area) {
        const double floor = grid_.cell[0] * grid_.cell[1];
        if (grid_.is_ground(c) || area <= kSliver * floor ||
            (direction == Direction::up && !high_end) ||
            (grid_.is_section() && direction == Direction::along)) {
            return;
        }
        add_facet(c, area, touching_side(grid_, shape_sides_, direction, high_end));
    }

    void add_facet(std::size_t c, double area, std::size_t side) {
        const double depth = grid_.sides[side].plane.depth(
            {grid_.centre[0][c], grid_.centre[1][c], grid_.centre[2][c]});
        const double least = kNearest * std::min({grid_.cell[0], grid_.cell[2]});
        grid_.facets.push_back({c, area, std::max(depth, least), side});
    }

    void add_cuts(std::size_t c, const ClippedBox& cell) {
        for (std::size_t s = 0; s < shape_sides_; ++s) {
            if (cell.cut[s] > kSliver * grid_.cell[0] * grid_.cell[1]) {
                add_facet(c, cell.cut[s], s);
            }
        }
    }

    void cover_rest_of_ground() {
        if (grid_.ground_layers == 0) {
            return;
        }
        const double floor = grid_.cell[0] * grid_.cell[1];
        for (std::size_t j = 0; j < grid_.box.along; ++j) {
            for (std::size_t i = 0; i < grid_.box.across; ++i) {
                const std::size_t c = grid_.box.index(i, j, grid_.ground_layers - 1);
                const double bare = floor - grid_.opening[0][c];
                if (bare > kSliver * floor) {
                    grid_.facets.push_back({c, bare,
                                            0.5 * grid_.layer_height[grid_.ground_layers - 1],
                                            grid_.ground_side()});
                }
            }
        }
    }

    Grid grid_;
    std::vector<Plane> planes_;
    std::size_t shape_sides_ = 0;
};

}  // namespace

std::size_t Grid::cut_side(Direction direction, bool high_end) const {
    constexpr std::size_t kInner = 6;
    const std::size_t first = sides.size() - kInner;
    switch (direction) {
        case Direction::up: return first;
        case Direction::across: return first + (high_end ? 2 : 1);
        case Direction::along: return first + (high_end ? 4 : 3);
    }
    return first;
}

Result<Grid> make_grid(const Shape& shape, const GridSpec& spec) {
    auto sides = sides_of(shape);
    if (!sides) {
        return sides.problems();
    }
    const bool is_section = !(spec.cell_along.si() > 0.0);
    if (auto problems = problems_of(shape, spec, is_section); !problems.empty()) {
        return problems;
    }
    auto used = *sides;
    if (is_section) {
        std::erase_if(used, [](const ShapeSide& side) {
            return side.side == Side::low_end || side.side == Side::high_end;
        });
    }
    return Builder(shape, spec, std::move(used), is_section).build();
}

Grid make_row(const std::vector<double>& volumes, const std::vector<double>& openings,
              const std::vector<double>& distances) {
    Grid grid = make_rectangle(volumes.size(), 1, 1.0, 1.0);
    double at = 0.0;
    for (std::size_t i = 0; i < volumes.size(); ++i) {
        const std::size_t c = grid.box.index(i, 0, 0);
        grid.volume[c] = volumes[i];
        grid.centre[0][c] = at;
        if (i < openings.size()) {
            grid.opening[1][c] = openings[i];
            grid.distance[1][c] = distances[i];
            at += distances[i];
        }
    }
    return grid;
}

Grid make_rectangle(std::size_t across, std::size_t up, double cell_across, double cell_up) {
    Grid grid;
    grid.box = {.across = across, .along = 1, .up = up};
    grid.cell = {cell_across, 1.0, cell_up};
    grid.volume = grid.box.field();
    for (auto* fields : {&grid.centre, &grid.opening, &grid.distance}) {
        for (auto& field : *fields) {
            field = grid.box.field();
        }
    }
    for (std::size_t k = 0; k < up; ++k) {
        grid.layer_bottom.push_back(static_cast<double>(k) * cell_up);
        grid.layer_height.push_back(cell_up);
    }
    for (std::size_t i = 0; i < across; ++i) {
        for (std::size_t k = 0; k < up; ++k) {
            const std::size_t c = grid.box.index(i, 0, k);
            grid.volume[c] = cell_across * cell_up;
            grid.centre[0][c] = (static_cast<double>(i) + 0.5) * cell_across;
            grid.centre[1][c] = 0.5;
            grid.centre[2][c] = (static_cast<double>(k) + 0.5) * cell_up;
            if (k + 1 < up) {
                grid.opening[0][c] = cell_across;
                grid.distance[0][c] = cell_up;
            }
            if (i + 1 < across) {
                grid.opening[1][c] = cell_up;
                grid.distance[1][c] = cell_across;
            }
        }
    }
    add_inner_sides(grid, 0.0);
    return grid;
}

}  // namespace beetwright::pile
