#include "maps/height_grid.hpp"

#include <algorithm>
#include <cmath>

#include "base/contract.hpp"
#include "base/counted.hpp"
#include "base/number_text.hpp"
#include "base/unit.hpp"
#include "ground/local_plane.hpp"

namespace beetwright::maps {
namespace {

// The ground is nowhere lower or higher than this, nor is the ellipsoid further from the sea.
constexpr double kLowest_m = -600.0;
constexpr double kHighest_m = 9000.0;

double distance_m(const ground::Position& from, const ground::Position& to) {
    const auto apart = ground::LocalPlane(from).to_plane(to);
    return std::hypot(apart.east_m, apart.north_m);
}

Problem problem_of(const std::string& file, std::string field, std::string what, std::string fix) {
    return {ProblemKind::input,
            {.file = file, .line = 0, .field = std::move(field)},
            std::move(what),
            std::move(fix)};
}

class Placing {
 public:
    Placing(const HeightGrid& grid, const Crs& crs) : grid_(grid), crs_(crs) {}

    [[nodiscard]] std::optional<ground::Position> at(std::size_t column, std::size_t row) const {
        return crs_.position(grid_.first_east + grid_.step_east * static_cast<double>(column),
                             grid_.first_north + grid_.step_north * static_cast<double>(row));
    }

    /// Between the middle cell and its neighbours, the longer of the two ways.
    [[nodiscard]] double spacing_m() const {
        const std::size_t column = grid_.columns / 2;
        const std::size_t row = grid_.rows / 2;
        const auto middle = at(column, row);
        const auto east = at(column + 1, row);
        const auto north = at(column, row + 1);
        return middle && east && north
                   ? std::max(distance_m(*middle, *east), distance_m(*middle, *north))
                   : ground::kNotSaid;
    }

 private:
    const HeightGrid& grid_;
    const Crs& crs_;
};

}  // namespace

Result<Crs> crs_supposed(const HeightGrid& grid, const std::string& file,
                         std::vector<std::string>& notes) {
    constexpr double kCoarsest_deg = 0.02;  // some 2 km: coarser is no ground of a field
    const double last_east = grid.first_east + grid.step_east * static_cast<double>(grid.columns);
    const double last_north = grid.first_north + grid.step_north * static_cast<double>(grid.rows);
    const bool can_be_degrees =
        ground::is_on_earth({grid.first_north, grid.first_east}) &&
        ground::is_on_earth({last_north, last_east}) &&
        std::max(std::abs(grid.step_east), std::abs(grid.step_north)) <= kCoarsest_deg;
    if (!can_be_degrees) {
        return Problem{ProblemKind::missing,
                       {.file = file, .line = 0, .field = "crs"},
                       "nothing says of which coordinate system the grid is",
                       "put its .prj file beside it, or give an EPSG code such as EPSG:25832"};
    }
    notes.emplace_back("the grid is supposed to be in degrees of WGS 84: nothing says otherwise");
    return Crs::wgs84({.file = file, .line = 0, .field = "crs"});
}

Result<double> height_unit_m(const MapFacts& facts, const std::string& file) {
    if (facts.height_unit.empty()) {
        return 1.0;
    }
    const auto unit = find_unit(facts.height_unit);
    if (!unit || unit->kind != UnitKind::length) {
        return problem_of(file, "height unit",
                          "'" + facts.height_unit + "' is not a unit of heights", "write m or ft");
    }
    return unit->to_si(1.0);
}

Result<ground::Heights> heights_of(const HeightGrid& grid, const Crs& crs, const std::string& file,
                                   const MapFacts& facts, std::vector<std::string> notes) {
    require(grid.heights.size() == grid.columns * grid.rows, "a grid has a value in every cell");
    const Placing placing(grid, crs);
    ground::Heights heights;
    heights.name = file;
    heights.heights_over = facts.heights_over;
    std::size_t unknown = 0;
    for (std::size_t row = 0; row < grid.rows; ++row) {
        for (std::size_t column = 0; column < grid.columns; ++column) {
            const double height_m = grid.metres * grid.heights[row * grid.columns + column];
            const auto cell = [&] {
                return "row " + std::to_string(row + 1) + ", column " + std::to_string(column + 1);
            };
            if (std::isnan(height_m)) {
                ++unknown;
                continue;
            }
            if (!(height_m >= kLowest_m && height_m <= kHighest_m)) {
                return problem_of(file, cell(),
                                  general_text(height_m, 6) + " m is no height of the ground",
                                  "see whether this marks cells that are not known, and say so in "
                                  "the file; and whether the unit is right");
            }
            const auto position = placing.at(column, row);
            if (!position) {
                return problem_of(file, cell(), "this cell is nowhere in " + crs.name(),
                                  "see whether the coordinate system is the right one");
            }
            heights.points.push_back({*position, height_m});
        }
    }
    if (heights.points.empty()) {
        return problem_of(file, "", "no cell of the grid has a height", "save it again");
    }
    heights.spacing_m = placing.spacing_m();
    if (unknown > 0) {
        notes.push_back(counted(unknown, "cell", "cells") + " without a height");
    }
    if (auto note = crs.note(); !note.empty()) {
        notes.push_back(std::move(note));
    }
    heights.notes = std::move(notes);
    return heights;
}

}  // namespace beetwright::maps
