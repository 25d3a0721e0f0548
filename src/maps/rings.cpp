#include "maps/rings.hpp"

#include <algorithm>
#include <cmath>

#include "base/number_text.hpp"

namespace beetwright::maps {
namespace {

constexpr double kWholeTurn_deg = 360.0;

}  // namespace

double longitude_step_deg(double from_deg, double to_deg) {
    return std::remainder(to_deg - from_deg, kWholeTurn_deg);
}

double turning_deg2(const ground::Ring& ring) {
    // Relative to the first corner: products of whole longitudes would leave few digits of a field.
    double twice = 0.0;
    double east = 0.0;
    double north = 0.0;
    for (std::size_t k = 1; k < ring.size(); ++k) {
        const double next_east =
            east + longitude_step_deg(ring[k - 1].longitude_deg, ring[k].longitude_deg);
        const double next_north = ring[k].latitude_deg - ring[0].latitude_deg;
        twice += east * next_north - next_east * north;
        east = next_east;
        north = next_north;
    }
    return 0.5 * twice;
}

void leave_out_repeated(ground::Ring& ring) {
    const auto rest = std::ranges::unique(ring);
    ring.erase(rest.begin(), rest.end());
    while (ring.size() > 1 && ring.front() == ring.back()) {
        ring.pop_back();
    }
}

std::size_t turn_rings(ground::Area& area) {
    std::size_t turned = 0;
    const auto turn = [&](ground::Ring& ring, bool is_wrong) {
        if (is_wrong) {
            std::ranges::reverse(ring);
            ++turned;
        }
    };
    for (auto& polygon : area) {
        turn(polygon.outer, turning_deg2(polygon.outer) < 0.0);
        for (auto& hole : polygon.holes) {
            turn(hole, turning_deg2(hole) > 0.0);
        }
    }
    return turned;
}

ground::Area area_on_earth(const ground::LocalPlane& plane, const ground::PlaneArea& area) {
    auto corners = plane.to_earth(area);
    turn_rings(corners);
    return corners;
}

std::string position_text(const ground::Position& position) {
    constexpr int kDecimals = 6;  // a tenth of a metre
    return fixed_text(position.latitude_deg, kDecimals) + ", " +
           fixed_text(position.longitude_deg, kDecimals);
}

}  // namespace beetwright::maps
