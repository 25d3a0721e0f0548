// The plane through values at places that leaves the least squares.
#pragma once

#include <vector>

#include "ground/position.hpp"

namespace beetwright::ground {

struct FittedPlane {
    Point middle;        ///< of the places
    double level = 0.0;  ///< mean of the values
    double east = 0.0;   ///< rise with a metre
    double north = 0.0;

    [[nodiscard]] double at(const Point& place) const {
        return level + east * (place.east_m - middle.east_m) +
               north * (place.north_m - middle.north_m);
    }
};

/// Level where places all lie in a row, or there are none.
FittedPlane plane_through(const std::vector<Point>& places, const std::vector<double>& values);

}  // namespace beetwright::ground
