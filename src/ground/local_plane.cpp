#include "ground/local_plane.hpp"

#include <cmath>
#include <numbers>

#include "base/contract.hpp"

namespace beetwright::ground {
namespace {

using Vector = std::array<double, 3>;

// WGS 84: NIMA TR8350.2, 2000, table 3.1.
constexpr double kSemiMajor_m = 6378137.0;
constexpr double kFlattening = 1.0 / 298.257223563;
constexpr double kEccentricity2 = kFlattening * (2.0 - kFlattening);
constexpr double kDegree = std::numbers::pi / 180.0;

double dot(const Vector& a, const Vector& b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/// On the ellipsoid, from the centre of the earth [m].
Vector from_centre(const Position& position) {
    const double latitude = position.latitude_deg * kDegree;
    const double longitude = position.longitude_deg * kDegree;
    const double sine = std::sin(latitude);
    const double radius = kSemiMajor_m / std::sqrt(1.0 - kEccentricity2 * sine * sine);
    return {radius * std::cos(latitude) * std::cos(longitude),
            radius * std::cos(latitude) * std::sin(longitude),
            radius * (1.0 - kEccentricity2) * sine};
}

/// Of the ellipsoid's equation x.M.y, M = diag(1, 1, 1 / (1 - e^2)) / a^2.
double on_ellipsoid(const Vector& a, const Vector& b) {
    return (a[0] * b[0] + a[1] * b[1] + a[2] * b[2] / (1.0 - kEccentricity2)) /
           (kSemiMajor_m * kSemiMajor_m);
}

Position on_earth(const Vector& at) {
    const double from_axis = std::hypot(at[0], at[1]);
    return {std::atan2(at[2], (1.0 - kEccentricity2) * from_axis) / kDegree,
            std::atan2(at[1], at[0]) / kDegree};
}

}  // namespace

LocalPlane::LocalPlane(const Position& middle) : middle_(middle), place_(from_centre(middle)) {
    require(is_on_earth(middle), "the middle of a plane is on earth");
    const double latitude = middle.latitude_deg * kDegree;
    const double longitude = middle.longitude_deg * kDegree;
    east_ = {-std::sin(longitude), std::cos(longitude), 0.0};
    north_ = {-std::sin(latitude) * std::cos(longitude), -std::sin(latitude) * std::sin(longitude),
              std::cos(latitude)};
    up_ = {std::cos(latitude) * std::cos(longitude), std::cos(latitude) * std::sin(longitude),
           std::sin(latitude)};
}

Point LocalPlane::to_plane(const Position& position) const {
    Vector from_middle = from_centre(position);
    for (std::size_t axis = 0; axis < 3; ++axis) {
        from_middle[axis] -= place_[axis];
    }
    return {dot(from_middle, east_), dot(from_middle, north_)};
}

Position LocalPlane::to_earth(const Point& point) const {
    // On the plane, then along its normal down to the ellipsoid: a quadratic for the way.
    Vector at = place_;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        at[axis] += point.east_m * east_[axis] + point.north_m * north_[axis];
    }
    const double square = on_ellipsoid(up_, up_);
    const double half = on_ellipsoid(up_, at);
    const double rest = on_ellipsoid(at, at) - 1.0;
    const double way = -rest / (half + std::sqrt(half * half - square * rest));
    for (std::size_t axis = 0; axis < 3; ++axis) {
        at[axis] += way * up_[axis];
    }
    return on_earth(at);
}

PlaneArea LocalPlane::to_plane(const Area& area) const {
    return with_corners<PlanePolygon>(area, [this](const Position& at) { return to_plane(at); });
}

Area LocalPlane::to_earth(const PlaneArea& area) const {
    return with_corners<Polygon>(area, [this](const Point& at) { return to_earth(at); });
}

Position middle_of(const Area& area) {
    // The mean of the corners' directions from the centre of the earth, so that no meridian is an
    // edge.
    Vector sum{};
    for (const auto& polygon : area) {
        for (const auto& corner : polygon.outer) {
            const auto at = from_centre(corner);
            for (std::size_t axis = 0; axis < 3; ++axis) {
                sum[axis] += at[axis];
            }
        }
    }
    require(dot(sum, sum) > 0.0, "an area has corners");
    return on_earth(sum);
}

}  // namespace beetwright::ground
