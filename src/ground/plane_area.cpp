#include "ground/plane_area.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/contract.hpp"

namespace beetwright::ground {
double turning_m2(const PlaneRing& ring) {
    // About the first corner, so that a ring far from the plane's middle loses no digits.
    double twice = 0.0;
    for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
        twice += (ring[i].east_m - ring[0].east_m) * (ring[i + 1].north_m - ring[0].north_m) -
                 (ring[i + 1].east_m - ring[0].east_m) * (ring[i].north_m - ring[0].north_m);
    }
    return 0.5 * twice;
}

bool encloses(const PlaneRing& ring, const Point& point) {
    bool inside = false;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const auto& a = ring[i];
        const auto& b = ring[(i + 1) % ring.size()];
        if ((a.north_m > point.north_m) == (b.north_m > point.north_m)) {
            continue;
        }
        const double share = (point.north_m - a.north_m) / (b.north_m - a.north_m);
        if (point.east_m < a.east_m + share * (b.east_m - a.east_m)) {
            inside = !inside;
        }
    }
    return inside;
}

double size_m2(const PlaneArea& area) {
    double sum = 0.0;
    for (const auto& polygon : area) {
        sum += std::abs(turning_m2(polygon.outer));
        for (const auto& hole : polygon.holes) {
            sum -= std::abs(turning_m2(hole));
        }
    }
    return sum;
}

bool contains(const PlaneArea& area, const Point& point) {
    return std::ranges::any_of(area, [&](const PlanePolygon& polygon) {
        return encloses(polygon.outer, point) &&
               std::ranges::none_of(polygon.holes,
                                    [&](const PlaneRing& hole) { return encloses(hole, point); });
    });
}

PlaneBox bounds(const PlaneArea& area) {
    constexpr double kFar = std::numeric_limits<double>::infinity();
    PlaneBox box{{kFar, kFar}, {-kFar, -kFar}};
    for (const auto& polygon : area) {
        for (const auto& corner : polygon.outer) {
            box.least.east_m = std::min(box.least.east_m, corner.east_m);
            box.least.north_m = std::min(box.least.north_m, corner.north_m);
            box.most.east_m = std::max(box.most.east_m, corner.east_m);
            box.most.north_m = std::max(box.most.north_m, corner.north_m);
        }
    }
    require(box.least.east_m <= box.most.east_m, "an area has corners");
    return box;
}

}  // namespace beetwright::ground
