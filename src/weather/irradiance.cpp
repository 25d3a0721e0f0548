#include "weather/irradiance.hpp"

#include <algorithm>
#include <cmath>

namespace beetwright::weather {
namespace {

double beam_on(const Plane& plane, const SunPosition& sun, const Sunshine& shine) {
    return shine.direct_normal * std::max(0.0, cosine_of_incidence(plane, sun));
}

}  // namespace

double view_of_sky(const Plane& plane) {
    return 0.5 * (1.0 + std::cos(plane.tilt));
}

double view_of_ground(const Plane& plane) {
    return 0.5 * (1.0 - std::cos(plane.tilt));
}

double cosine_of_incidence(const Plane& plane, const SunPosition& sun) {
    return std::cos(sun.zenith) * std::cos(plane.tilt) +
           std::sin(sun.zenith) * std::sin(plane.tilt) * std::cos(sun.azimuth - plane.azimuth);
}

double sunshine_under_cloud(const SunPosition& sun, double cloud) {
    constexpr double kClear = 0.75;
    constexpr double kOvercast = 0.25;
    const double outside =
        irradiance_outside_air(sun.distance) * std::max(0.0, std::cos(sun.zenith));
    return outside * (kClear + cloud * (kOvercast - kClear));
}

Sunshine parted_sunshine(double global, const SunPosition& sun) {
    constexpr double kLeastCosine = 0.0087;
    const double upward = std::cos(sun.zenith);
    if (global <= 0.0 || upward < kLeastCosine) {
        return {.global = std::max(0.0, global), .diffuse = std::max(0.0, global)};
    }
    const double clearness = global / (irradiance_outside_air(sun.distance) * upward);
    constexpr double kCovered = 0.22;
    constexpr double kClear = 0.80;
    const double k = std::min(clearness, kClear);
    const double diffuse_share =
        clearness <= kCovered ? 1.0 - 0.09 * clearness
                              : 0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)));
    const double diffuse = global * diffuse_share;
    return {.global = global, .direct_normal = (global - diffuse) / upward, .diffuse = diffuse};
}

PlaneIrradiance isotropic_irradiance(const Plane& plane, const SunPosition& sun,
                                     const Sunshine& shine, double albedo) {
    return {.beam = beam_on(plane, sun, shine),
            .sky = shine.diffuse * view_of_sky(plane),
            .ground = shine.global * albedo * view_of_ground(plane)};
}

PlaneIrradiance hay_davies_irradiance(const Plane& plane, const SunPosition& sun,
                                      const Sunshine& shine, double albedo, double outside_air) {
    PlaneIrradiance on = isotropic_irradiance(plane, sun, shine, albedo);
    // Within a degree of the horizon the ratio of the two cosines means nothing any more.
    constexpr double kLeastCosine = 0.01745;
    const double clearness = std::clamp(shine.direct_normal / outside_air, 0.0, 1.0);
    const double ratio = std::max(0.0, cosine_of_incidence(plane, sun)) /
                         std::max(kLeastCosine, std::cos(sun.zenith));
    on.sky = shine.diffuse * (clearness * ratio + (1.0 - clearness) * view_of_sky(plane));
    return on;
}

}  // namespace beetwright::weather
