// The plane in which a field is reckoned: metres east and north of its middle, exact anywhere on
// earth, at the poles and across the antimeridian as well.
//
// A position on the ellipsoid is seen square onto the plane that touches it at the middle. That
// needs no zones and no series, and goes back in closed form. What it costs is that ground d away
// from the middle is seen shorter by d^3/6R^2: 4 micrometres at 1 km, 4 mm at 10.
// docs/methods/relief.md.
#pragma once

#include <array>

#include "ground/area.hpp"
#include "ground/position.hpp"

namespace beetwright::ground {

class LocalPlane {
 public:
    /// `middle`: anywhere on earth, best in the middle of what is reckoned.
    explicit LocalPlane(const Position& middle);

    [[nodiscard]] const Position& middle() const { return middle_; }
    /// Meant within some tens of km of the middle.
    [[nodiscard]] Point to_plane(const Position& position) const;
    [[nodiscard]] Position to_earth(const Point& point) const;
    [[nodiscard]] PlaneArea to_plane(const Area& area) const;
    /// Rings run as they do in the plane.
    [[nodiscard]] Area to_earth(const PlaneArea& area) const;

 private:
    using Vector = std::array<double, 3>;

    Position middle_;
    Vector place_;  ///< from the centre of the earth [m], as the axes
    Vector east_;
    Vector north_;
    Vector up_;
};

/// In the middle of the corners of an area, across the antimeridian too. `area` has a corner.
Position middle_of(const Area& area);

}  // namespace beetwright::ground
