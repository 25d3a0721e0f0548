// Where on earth something is.
#pragma once

#include <numbers>

namespace beetwright::weather {

inline constexpr double kDegree = std::numbers::pi / 180.0;  ///< [rad]

struct Place {
    double latitude_rad = 0.0;   ///< north is positive
    double longitude_rad = 0.0;  ///< east is positive
    double elevation_m = 0.0;

    static constexpr Place degrees(double latitude, double longitude, double elevation_m) {
        return {latitude * kDegree, longitude * kDegree, elevation_m};
    }
};

}  // namespace beetwright::weather
