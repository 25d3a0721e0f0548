// Areas in a field's plane: how large they are, and what lies in them.
#pragma once

#include "ground/area.hpp"

namespace beetwright::ground {

/// [m2], less the holes; whichever way the rings run.
double size_m2(const PlaneArea& area);
/// Whether a point lies in the area and in none of its holes; a point on an edge counts to one of
/// the two sides.
bool contains(const PlaneArea& area, const Point& point);

struct PlaneBox {
    Point least;
    Point most;
};
/// `area` has a corner.
PlaneBox bounds(const PlaneArea& area);

}  // namespace beetwright::ground
