// Pieces of ground: fields, zones, and what is left out of them.
#pragma once

#include <vector>

#include "ground/position.hpp"

namespace beetwright::ground {

/// Corners in order, each once: the last joins the first. Outer rings run counter-clockwise, holes
/// clockwise, as seen from above (RFC 7946, 3.1.6).
using Ring = std::vector<Position>;

struct Polygon {
    Ring outer;
    std::vector<Ring> holes = {};
    friend bool operator==(const Polygon&, const Polygon&) = default;
};

/// One field or zone; several polygons where a road or ditch parts it.
using Area = std::vector<Polygon>;

/// The same in a field's own plane.
using PlaneRing = std::vector<Point>;
struct PlanePolygon {
    PlaneRing outer;
    std::vector<PlaneRing> holes = {};
};
using PlaneArea = std::vector<PlanePolygon>;

}  // namespace beetwright::ground
