// Where on the ground something is: geographic positions, and metres east and north of a field's
// middle.
//
// Files and receivers speak of latitudes and longitudes of WGS 84; everything that is reckoned is
// reckoned in metres, in a plane that touches the ellipsoid at the field. docs/methods/relief.md.
#pragma once

#include <cmath>

namespace beetwright::ground {

/// On WGS 84, in degrees, north and east positive.
struct Position {
    double latitude_deg = 0.0;
    double longitude_deg = 0.0;
    friend bool operator==(const Position&, const Position&) = default;
};

/// Whether it can be on earth: finite, within 90 and 180 degrees.
inline bool is_on_earth(const Position& position) {
    return std::abs(position.latitude_deg) <= 90.0 && std::abs(position.longitude_deg) <= 180.0;
}

/// In a field's own plane.
struct Point {
    double east_m = 0.0;
    double north_m = 0.0;
    friend bool operator==(const Point&, const Point&) = default;
};

}  // namespace beetwright::ground
