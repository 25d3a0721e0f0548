#include "maps/flat.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/contract.hpp"
#include "maps/rings.hpp"

namespace beetwright::maps {
namespace {

// WGS 84: half the equator's axis, and the first eccentricity squared.
constexpr double kSemiMajor_m = 6'378'137.0;
constexpr double kEccentricity2 = 0.00669437999014;
constexpr double kDegree = std::numbers::pi / 180.0;

}  // namespace

Flat::Flat(const ground::Position& middle) : middle_(middle) {
    const double sine = std::sin(middle.latitude_deg * kDegree);
    const double w2 = 1.0 - kEccentricity2 * sine * sine;
    const double across_m = kSemiMajor_m / std::sqrt(w2);  // radius of the prime vertical
    m_per_deg_north_ = kDegree * across_m * (1.0 - kEccentricity2) / w2;
    // At a pole no degree of longitude has any length; a nanometre keeps the way back open.
    m_per_deg_east_ = std::max(kDegree * across_m * std::cos(middle.latitude_deg * kDegree), 1e-9);
}

Flat Flat::about(const ground::Area& area) {
    require(!area.empty() && !area.front().outer.empty(), "what is laid flat has a corner");
    const auto& first = area.front().outer.front();
    double west = 0.0;
    double east = 0.0;
    double south = first.latitude_deg;
    double north = first.latitude_deg;
    for (const auto& polygon : area) {
        for (const auto& corner : polygon.outer) {
            const double step = longitude_step_deg(first.longitude_deg, corner.longitude_deg);
            west = std::min(west, step);
            east = std::max(east, step);
            south = std::min(south, corner.latitude_deg);
            north = std::max(north, corner.latitude_deg);
        }
    }
    return Flat(
        {.latitude_deg = 0.5 * (south + north),
         .longitude_deg = longitude_step_deg(0.0, first.longitude_deg + 0.5 * (west + east))});
}

ground::Point Flat::point(const ground::Position& position) const {
    return {.east_m =
                m_per_deg_east_ * longitude_step_deg(middle_.longitude_deg, position.longitude_deg),
            .north_m = m_per_deg_north_ * (position.latitude_deg - middle_.latitude_deg)};
}

ground::Position Flat::position(const ground::Point& point) const {
    return {.latitude_deg = middle_.latitude_deg + point.north_m / m_per_deg_north_,
            .longitude_deg =
                longitude_step_deg(0.0, middle_.longitude_deg + point.east_m / m_per_deg_east_)};
}

ground::PlaneArea Flat::area(const ground::Area& area) const {
    return ground::with_corners<ground::PlanePolygon>(
        area, [this](const ground::Position& at) { return point(at); });
}

}  // namespace beetwright::maps
