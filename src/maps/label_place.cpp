#include "maps/label_place.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "ground/plane_area.hpp"

namespace beetwright::maps {
namespace {

using ground::PlaneRing;
using ground::Point;

double to_edge_m(const Point& at, const Point& a, const Point& b) {
    const double east = b.east_m - a.east_m;
    const double north = b.north_m - a.north_m;
    const double length2 = east * east + north * north;
    const double along =
        length2 > 0.0 ? ((at.east_m - a.east_m) * east + (at.north_m - a.north_m) * north) / length2
                      : 0.0;
    const double share = std::clamp(along, 0.0, 1.0);
    return std::hypot(at.east_m - a.east_m - share * east, at.north_m - a.north_m - share * north);
}

double to_ring_m(const Point& at, const PlaneRing& ring) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < ring.size(); ++k) {
        least = std::min(least, to_edge_m(at, ring[k], ring[(k + 1) % ring.size()]));
    }
    return least;
}

}  // namespace

LabelPlace label_place(const ground::PlanePolygon& polygon) {
    constexpr int kSteps = 24;  // along each side of the box around it
    const ground::PlaneArea area{polygon};
    const auto box = ground::bounds(area);
    const Point middle{0.5 * (box.least.east_m + box.most.east_m),
                       0.5 * (box.least.north_m + box.most.north_m)};
    constexpr double kTowardsMiddle = 0.05;  // of room given up for each metre nearer
    LabelPlace best{middle};
    double most_worth = -std::numeric_limits<double>::infinity();
    for (int row = 0; row < kSteps; ++row) {
        for (int column = 0; column < kSteps; ++column) {
            const auto between = [](double least, double most, int step) {
                return least + (most - least) * (step + 0.5) / kSteps;
            };
            const Point at{between(box.least.east_m, box.most.east_m, column),
                           between(box.least.north_m, box.most.north_m, row)};
            if (!ground::contains(area, at)) {
                continue;
            }
            double room = to_ring_m(at, polygon.outer);
            for (const auto& hole : polygon.holes) {
                room = std::min(room, to_ring_m(at, hole));
            }
            // Of places with as much room, that nearest the middle.
            const double worth = room - kTowardsMiddle * std::hypot(at.east_m - middle.east_m,
                                                                    at.north_m - middle.north_m);
            if (worth > most_worth) {
                most_worth = worth;
                best = {at, room};
            }
        }
    }
    return best;
}

}  // namespace beetwright::maps
