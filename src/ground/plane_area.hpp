// Areas in a field's plane: how large they are, and what lies in them.
#pragma once

#include "ground/area.hpp"

namespace beetwright::ground {

/// What a ring encloses [m2]; below zero where it runs clockwise.
double turning_m2(const PlaneRing& ring);
/// Whether a ray from the point to the east meets the ring an odd number of times.
bool encloses(const PlaneRing& ring, const Point& point);

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
