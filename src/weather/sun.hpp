// Where the sun stands.
//
// The solar position algorithm of Reda and Andreas (NREL/TP-560-34302, 2004, revised 2008), good to
// 0.0003 degrees from the year -2000 to 6000. It is more than a leaf needs; it is chosen because
// its report gives every intermediate figure of a worked case, so that an error cannot hide.
// docs/methods/sun.md.
#pragma once

#include <optional>

#include "base/quantity.hpp"
#include "base/time.hpp"
#include "weather/place.hpp"

namespace beetwright::weather {

/// The earth and the sun at an instant, whoever looks. Angles in radians.
struct SunEphemeris {
    double julian_day = 0.0;
    double longitude = 0.0;  ///< of the earth, heliocentric
    double latitude = 0.0;   ///< of the earth, heliocentric
    double distance = 0.0;   ///< [astronomical units]
    double nutation_longitude = 0.0;
    double nutation_obliquity = 0.0;
    double obliquity = 0.0;           ///< true obliquity of the ecliptic
    double apparent_longitude = 0.0;  ///< of the sun
    double sidereal_time = 0.0;       ///< apparent, at Greenwich
    double right_ascension = 0.0;
    double declination = 0.0;
};

/// What the earth's turning lags behind uniform time [s]. It grows by well under a second a year
/// since 2015, and five seconds move the sun by 0.00006 degrees.
inline constexpr double kClockLag_s = 69.2;

SunEphemeris sun_ephemeris(Instant at, double clock_lag_s = kClockLag_s);

/// Air that bends the light.
struct SkyAir {
    double pressure_Pa = 101'325.0;
    Temperature temperature = Temperature::celsius(10.0);
};

/// The sun as seen from a place. Angles in radians.
struct SunPosition {
    double zenith = 0.0;          ///< apparent, with refraction
    double azimuth = 0.0;         ///< from north through east
    double distance = 0.0;        ///< [astronomical units]
    double true_elevation = 0.0;  ///< without refraction
    double refraction = 0.0;
    double hour_angle = 0.0;       ///< topocentric, westward
    double right_ascension = 0.0;  ///< topocentric
    double declination = 0.0;      ///< topocentric
};

SunPosition sun_position(Instant at, const Place& place, const SkyAir& air = {},
                         double clock_lag_s = kClockLag_s);

/// Above the horizon from rise to set. A day may lack either: the sun does not rise, or does not
/// set.
struct SunTimes {
    std::optional<Instant> rise;
    std::optional<Instant> noon;  ///< when it stands highest
    std::optional<Instant> set;
};

/// Of the 24 hours from `midnight` on. The upper rim at the horizon, with the usual refraction.
SunTimes sun_times(Instant midnight, const Place& place, double clock_lag_s = kClockLag_s);

/// Solar irradiance outside the air, square to the rays [W/m2]; `distance` in astronomical units.
/// 1361 W/m2 at one unit (Kopp and Lean 2011, Geophys. Res. Lett. 38:L01706).
double irradiance_outside_air(double distance);

}  // namespace beetwright::weather
