// What of a box lies within planes: its volume, and the areas of its sides and of the cuts.
//
// Sloping faces cut through a grid's cells. Each cell is clipped by the pile's planes as a convex
// body, so that volumes, openings between cells and outer faces are right to rounding and close
// (their area vectors add up to nothing). Stairs of whole cells were the alternative; they have the
// right volume but a face that is up to 1.4 times too large, whatever the cell.
#pragma once

#include <array>
#include <span>
#include <vector>

namespace beetwright::pile {

using Point = std::array<double, 3>;  ///< across, along, up [m]

inline double dot(const Point& a, const Point& b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/// All points with `outward` . x <= `offset`; `outward` has length 1.
struct Plane {
    Point outward{};
    double offset = 0.0;

    /// How far inside a point lies [m]; negative: outside.
    [[nodiscard]] double depth(const Point& p) const { return offset - dot(outward, p); }
};

struct ClippedBox {
    double volume = 0.0;  ///< [m3]
    Point centre{};       ///< of its volume [m]; where the volume is nought, the box's own
    /// Of the sides that look across, along and up, first those at the low ends [m2].
    std::array<double, 3> low_side{};
    std::array<double, 3> high_side{};
    std::vector<double> cut;  ///< by plane [m2]
};

/// The box from `low` to `high` within the planes. A plane that only touches a side cuts nothing.
ClippedBox clip_box(const Point& low, const Point& high, std::span<const Plane> planes);

}  // namespace beetwright::pile
