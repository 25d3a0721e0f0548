#include "maps/antimeridian.hpp"

#include <algorithm>
#include <cmath>

#include "maps/plane_polygons.hpp"
#include "maps/rings.hpp"

namespace beetwright::maps {
namespace {

constexpr double kHalfTurn_deg = 180.0;

bool crosses(const ground::Polygon& polygon) {
    const auto& ring = polygon.outer;
    for (std::size_t k = 0; k < ring.size(); ++k) {
        const double from = ring[k].longitude_deg;
        const double to = ring[(k + 1) % ring.size()].longitude_deg;
        if (std::abs(to - from) > kHalfTurn_deg) {
            return true;
        }
    }
    return false;
}

/// Degrees as a plane in which the antimeridian is the line east = 0. Taking 180 from a longitude
/// near it and adding it again loses no digit.
ground::PlaneRing beside_antimeridian(const ground::Ring& ring) {
    ground::PlaneRing plane;
    for (const auto& corner : ring) {
        const double east = corner.longitude_deg;
        plane.push_back(
            {east > 0.0 ? east - kHalfTurn_deg : east + kHalfTurn_deg, corner.latitude_deg});
    }
    return plane;
}

void append(const ground::PlaneArea& side, double antimeridian_deg, ground::Area& to) {
    const auto back = ground::with_corners<ground::Polygon>(side, [&](const ground::Point& at) {
        return ground::Position{at.north_m, at.east_m + antimeridian_deg};
    });
    to.insert(to.end(), back.begin(), back.end());
}

}  // namespace

ground::Area cut_at_antimeridian(const ground::Area& area) {
    ground::Area cut;
    for (const auto& polygon : area) {
        if (!crosses(polygon)) {
            cut.push_back(polygon);
            continue;
        }
        ground::PlanePolygon plane{.outer = beside_antimeridian(polygon.outer)};
        for (const auto& hole : polygon.holes) {
            plane.holes.push_back(beside_antimeridian(hole));
        }
        append(between({plane}, -kHalfTurn_deg, 0.0), kHalfTurn_deg, cut);
        append(between({plane}, 0.0, kHalfTurn_deg), -kHalfTurn_deg, cut);
    }
    turn_rings(cut);
    return cut;
}

}  // namespace beetwright::maps
