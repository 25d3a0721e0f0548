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

/// An area with each of its corners put somewhere else: onto a plane, or back.
template <class ToPolygon, class FromPolygon, class Put>
std::vector<ToPolygon> with_corners(const std::vector<FromPolygon>& area, const Put& put) {
    const auto ring = [&](const auto& corners) {
        decltype(ToPolygon::outer) to;
        to.reserve(corners.size());
        for (const auto& corner : corners) {
            to.push_back(put(corner));
        }
        return to;
    };
    std::vector<ToPolygon> all;
    all.reserve(area.size());
    for (const auto& polygon : area) {
        auto& one = all.emplace_back();
        one.outer = ring(polygon.outer);
        for (const auto& hole : polygon.holes) {
            one.holes.push_back(ring(hole));
        }
    }
    return all;
}

}  // namespace beetwright::ground
