// A field as square cells, in rows along the direction in which it is driven.
//
// So a pass of a machine is a row of cells, and a zone that is made of cells can be driven.
#pragma once

#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

#include "base/contract.hpp"
#include "ground/position.hpp"

namespace beetwright::ground {

/// Where a field's cells lie in its plane.
struct Grid {
    Point corner;              ///< of the first cell, outermost
    double direction_rad = 0;  ///< of the rows, counter-clockwise from east
    double cell_m = 1.0;
    std::size_t columns = 0;  ///< along the rows
    std::size_t rows = 0;

    [[nodiscard]] std::size_t size() const { return columns * rows; }
    [[nodiscard]] std::size_t at(std::size_t column, std::size_t row) const {
        return row * columns + column;
    }
    /// [m] along and across the rows, from the corner.
    [[nodiscard]] Point along_and_across(const Point& point) const {
        const double east = point.east_m - corner.east_m;
        const double north = point.north_m - corner.north_m;
        const double cosine = std::cos(direction_rad);
        const double sine = std::sin(direction_rad);
        return {cosine * east + sine * north, -sine * east + cosine * north};
    }
    /// The other way round.
    [[nodiscard]] Point in_plane(double along_m, double across_m) const {
        const double cosine = std::cos(direction_rad);
        const double sine = std::sin(direction_rad);
        return {corner.east_m + cosine * along_m - sine * across_m,
                corner.north_m + sine * along_m + cosine * across_m};
    }
    [[nodiscard]] Point middle(std::size_t cell) const {
        const std::size_t row = cell / columns;
        return in_plane((static_cast<double>(cell - row * columns) + 0.5) * cell_m,
                        (static_cast<double>(row) + 0.5) * cell_m);
    }
    /// The cell that a point lies in; none outside.
    [[nodiscard]] std::optional<std::size_t> cell_of(const Point& point) const {
        const auto [along, across] = along_and_across(point);
        const double column = std::floor(along / cell_m);
        const double row = std::floor(across / cell_m);
        if (!(column >= 0.0 && row >= 0.0 && column < static_cast<double>(columns) &&
              row < static_cast<double>(rows))) {
            return std::nullopt;
        }
        return at(static_cast<std::size_t>(column), static_cast<std::size_t>(row));
    }
};

/// A number for each cell of a grid; NaN outside the field.
using Layer = std::vector<double>;

}  // namespace beetwright::ground
