// Sunshine on a plane: a pile's flank, a field's slope. docs/methods/irradiance.md.
#pragma once

#include "weather/sun.hpp"

namespace beetwright::weather {

/// Angles in radians: tilt from the horizontal, azimuth of the way it faces, from north through
/// east.
struct Plane {
    double tilt = 0.0;
    double azimuth = 0.0;
};

/// Shares of a plane's view, where the ground is level.
double view_of_sky(const Plane& plane);
double view_of_ground(const Plane& plane);

/// Cosine of the angle between the sun's rays and the plane's normal; negative: it is behind.
double cosine_of_incidence(const Plane& plane, const SunPosition& sun);

/// On the level, and square to the rays [W/m2].
struct Sunshine {
    double global = 0.0;         ///< on the level, all of it
    double direct_normal = 0.0;  ///< from the sun, square to its rays
    double diffuse = 0.0;        ///< on the level, from the sky
};

/// Global sunshine on the level [W/m2] where nobody measured it: of what comes in outside the air
/// 0.75 under a clear sky and 0.25 under a covered one, and in between by the cloud's share.
double sunshine_under_cloud(const SunPosition& sun, double cloud);

/// Global sunshine on the level parted into the sun's own and the sky's, by how much of what comes
/// in outside the air reaches the ground (Erbs, Klein and Duffie 1982, Solar Energy 28:293-302,
/// from memory [M]). With the sun within half a degree of the horizon all of it is the sky's.
Sunshine parted_sunshine(double global, const SunPosition& sun);

/// On a plane [W/m2].
struct PlaneIrradiance {
    double beam = 0.0;
    double sky = 0.0;
    double ground = 0.0;
    [[nodiscard]] double total() const { return beam + sky + ground; }
};

/// A sky that is as bright everywhere.
PlaneIrradiance isotropic_irradiance(const Plane& plane, const SunPosition& sun,
                                     const Sunshine& shine, double albedo);
/// A sky that is brighter about the sun, the more the clearer it is (Hay and Davies 1980).
/// `outside_air`: square to the rays outside the air [W/m2].
PlaneIrradiance hay_davies_irradiance(const Plane& plane, const SunPosition& sun,
                                      const Sunshine& shine, double albedo, double outside_air);

}  // namespace beetwright::weather
