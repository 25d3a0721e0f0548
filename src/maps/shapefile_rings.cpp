#include "maps/shapefile_rings.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "ground/plane_area.hpp"

namespace beetwright::maps {
namespace {

using ground::PlaneRing;
using ground::Point;

struct Box {
    Point least{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
    Point most{-least.east_m, -least.north_m};

    explicit Box(const PlaneRing& ring) {
        for (const auto& corner : ring) {
            least = {std::min(least.east_m, corner.east_m),
                     std::min(least.north_m, corner.north_m)};
            most = {std::max(most.east_m, corner.east_m), std::max(most.north_m, corner.north_m)};
        }
    }
    [[nodiscard]] bool holds(const Box& other) const {
        return least.east_m <= other.least.east_m && least.north_m <= other.least.north_m &&
               most.east_m >= other.most.east_m && most.north_m >= other.most.north_m;
    }
};

/// A hole's corner may stand on the ring around it, where either answer comes; of three the
/// majority counts.
bool is_around(const PlaneRing& ring, const PlaneRing& hole) {
    int inside = 0;
    for (std::size_t third = 0; third < 3; ++third) {
        inside += ground::encloses(ring, hole[third * hole.size() / 3]) ? 1 : 0;
    }
    return inside >= 2;
}

}  // namespace

ground::PlaneArea polygons_of(std::vector<PlaneRing> rings, std::size_t& stray) {
    std::vector<double> turning;
    for (const auto& ring : rings) {
        turning.push_back(ground::turning_m2(ring));
    }
    // Outer rings run clockwise, but some programs write all rings the other way round. The largest
    // is an outer one in any case.
    const auto largest = std::ranges::max_element(
        turning, {}, [](double m2) { return std::isnan(m2) ? 0.0 : std::abs(m2); });
    const bool is_turned = largest != turning.end() && *largest > 0.0;
    const auto is_hole = [&](std::size_t k) {
        return is_turned ? turning[k] < 0.0 : turning[k] > 0.0;
    };
    ground::PlaneArea polygons;
    std::vector<Box> boxes;
    std::vector<double> sizes;
    for (std::size_t k = 0; k < rings.size(); ++k) {
        if (!is_hole(k)) {
            boxes.emplace_back(rings[k]);
            sizes.push_back(std::abs(turning[k]));
            polygons.push_back({std::move(rings[k]), {}});
        }
    }
    stray = 0;
    for (std::size_t k = 0; k < rings.size(); ++k) {
        if (!is_hole(k)) {
            continue;
        }
        const Box box(rings[k]);
        std::size_t around = polygons.size();
        for (std::size_t p = 0; p < polygons.size(); ++p) {
            if ((around == polygons.size() || sizes[p] < sizes[around]) && boxes[p].holds(box) &&
                is_around(polygons[p].outer, rings[k])) {
                around = p;
            }
        }
        if (around == polygons.size()) {
            ++stray;
        } else {
            polygons[around].holes.push_back(std::move(rings[k]));
        }
    }
    return polygons;
}

}  // namespace beetwright::maps
