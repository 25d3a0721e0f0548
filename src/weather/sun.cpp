#include "weather/sun.hpp"

#include <array>
#include <cmath>
#include <numbers>

#include "weather/sun_terms.hpp"

namespace beetwright::weather {
namespace {

constexpr double kTurn = 2.0 * std::numbers::pi;
constexpr double kDay_s = 86'400.0;
constexpr double kJulianDayOf1970 = 2'440'587.5;
constexpr double kJulianDayOf2000 = 2'451'545.0;
constexpr double kArcsecond = kDegree / 3600.0;
constexpr double kSunRadius = 0.26667 * kDegree;
constexpr double kUsualRefraction = 0.5667 * kDegree;  ///< at the horizon

double within_turn(double angle) {
    const double rest = std::fmod(angle, kTurn);
    return rest < 0.0 ? rest + kTurn : rest;
}

/// c0 + c1 x + c2 x^2 + ...
template <std::size_t N>
double polynomial(const std::array<double, N>& c, double x) {
    double sum = 0.0;
    for (std::size_t k = N; k-- > 0;) {
        sum = sum * x + c[k];
    }
    return sum;
}

double sum_of(std::span<const std::span<const PeriodicTerm>> lists, double millennia) {
    double total = 0.0;
    double power = 1.0;
    for (const auto& list : lists) {
        double sum = 0.0;
        for (const auto& term : list) {
            sum += term.size * std::cos(term.phase + term.rate * millennia);
        }
        total += sum * power;
        power *= millennia;
    }
    return total / 1e8;
}

struct Nutation {
    double longitude = 0.0;
    double obliquity = 0.0;
};

Nutation nutation_at(double centuries) {
    // The moon's elongation, the sun's and the moon's anomalies, the moon's argument of latitude,
    // the longitude of its ascending node [degrees].
    const std::array<double, 5> angles{
        polynomial<4>({297.85036, 445267.111480, -0.0019142, 1.0 / 189474.0}, centuries),
        polynomial<4>({357.52772, 35999.050340, -0.0001603, -1.0 / 300000.0}, centuries),
        polynomial<4>({134.96298, 477198.867398, 0.0086972, 1.0 / 56250.0}, centuries),
        polynomial<4>({93.27191, 483202.017538, -0.0036825, 1.0 / 327270.0}, centuries),
        polynomial<4>({125.04452, -1934.136261, 0.0020708, 1.0 / 450000.0}, centuries)};
    Nutation sum;
    for (const auto& term : nutation_terms()) {
        double angle = 0.0;
        for (std::size_t k = 0; k < angles.size(); ++k) {
            angle += angles[k] * term.multiples[k];
        }
        angle *= kDegree;
        sum.longitude += (term.longitude + term.longitude_rate * centuries) * std::sin(angle);
        sum.obliquity += (term.obliquity + term.obliquity_rate * centuries) * std::cos(angle);
    }
    constexpr double kUnit = 1e-4 * kArcsecond;
    return {sum.longitude * kUnit, sum.obliquity * kUnit};
}

/// Sine of the sun's elevation from the earth's centre.
double geocentric_sine(Instant at, const Place& place, double clock_lag_s) {
    const auto sun = sun_ephemeris(at, clock_lag_s);
    const double hour = sun.sidereal_time + place.longitude_rad - sun.right_ascension;
    return std::sin(place.latitude_rad) * std::sin(sun.declination) +
           std::cos(place.latitude_rad) * std::cos(sun.declination) * std::cos(hour);
}

using std::chrono::milliseconds;

/// Where `f`, of opposite signs at both ends, is zero, to a millisecond.
template <class Function>
Instant crossing(Instant from, Instant to, Function&& f) {
    const bool starts_below = f(from) < 0.0;
    while (to - from > milliseconds(1)) {
        const Instant middle = from + (to - from) / 2;
        ((f(middle) < 0.0) == starts_below ? from : to) = middle;
    }
    return from;
}

}  // namespace

SunEphemeris sun_ephemeris(Instant at, double clock_lag_s) {
    const double seconds = static_cast<double>(at.time_since_epoch().count()) / 1000.0;
    SunEphemeris sun;
    sun.julian_day = seconds / kDay_s + kJulianDayOf1970;
    const double days = sun.julian_day - kJulianDayOf2000;
    const double civil_centuries = days / 36'525.0;
    const double centuries = (days + clock_lag_s / kDay_s) / 36'525.0;
    const double millennia = centuries / 10.0;
    sun.longitude = within_turn(sum_of(longitude_terms(), millennia));
    sun.latitude = sum_of(latitude_terms(), millennia);
    sun.distance = sum_of(distance_terms(), millennia);
    const auto nutation = nutation_at(centuries);
    sun.nutation_longitude = nutation.longitude;
    sun.nutation_obliquity = nutation.obliquity;
    const double mean_obliquity = polynomial<11>({84381.448, -4680.93, -1.55, 1999.25, -51.38,
                                                  -249.67, -39.05, 7.12, 27.87, 5.79, 2.45},
                                                 millennia / 10.0) *
                                  kArcsecond;
    sun.obliquity = mean_obliquity + nutation.obliquity;
    const double aberration = -20.4898 * kArcsecond / sun.distance;
    sun.apparent_longitude =
        within_turn(sun.longitude + std::numbers::pi + nutation.longitude + aberration);
    const double mean_sidereal =
        280.46061837 + 360.98564736629 * days +
        civil_centuries * civil_centuries * (0.000387933 - civil_centuries / 38'710'000.0);
    sun.sidereal_time =
        within_turn(mean_sidereal * kDegree + nutation.longitude * std::cos(sun.obliquity));
    const double beta = -sun.latitude;
    const double sin_lambda = std::sin(sun.apparent_longitude);
    sun.right_ascension = within_turn(
        std::atan2(sin_lambda * std::cos(sun.obliquity) - std::tan(beta) * std::sin(sun.obliquity),
                   std::cos(sun.apparent_longitude)));
    sun.declination = std::asin(std::sin(beta) * std::cos(sun.obliquity) +
                                std::cos(beta) * std::sin(sun.obliquity) * sin_lambda);
    return sun;
}

SunPosition sun_position(Instant at, const Place& place, const SkyAir& air, double clock_lag_s) {
    const auto sun = sun_ephemeris(at, clock_lag_s);
    const double latitude = place.latitude_rad;
    const double hour = sun.sidereal_time + place.longitude_rad - sun.right_ascension;
    // From the earth's centre to where somebody stands on its flattened globe.
    constexpr double kFlattened = 0.99664719;
    constexpr double kEarthRadius_m = 6'378'140.0;
    const double parallax = 8.794 * kArcsecond / sun.distance;
    const double u = std::atan(kFlattened * std::tan(latitude));
    const double height = place.elevation_m / kEarthRadius_m;
    const double x = std::cos(u) + height * std::cos(latitude);
    const double y = kFlattened * std::sin(u) + height * std::sin(latitude);
    const double across = std::cos(sun.declination) - x * std::sin(parallax) * std::cos(hour);
    const double shift = std::atan2(-x * std::sin(parallax) * std::sin(hour), across);

    SunPosition seen;
    seen.distance = sun.distance;
    seen.right_ascension = within_turn(sun.right_ascension + shift);
    seen.declination =
        std::atan2((std::sin(sun.declination) - y * std::sin(parallax)) * std::cos(shift), across);
    seen.hour_angle = within_turn(hour - shift);
    seen.true_elevation =
        std::asin(std::sin(latitude) * std::sin(seen.declination) +
                  std::cos(latitude) * std::cos(seen.declination) * std::cos(seen.hour_angle));
    if (seen.true_elevation >= -(kSunRadius + kUsualRefraction)) {
        const double e_deg = seen.true_elevation / kDegree;
        seen.refraction = (air.pressure_Pa / 101'000.0) *
                          (283.0 / (273.0 + air.temperature.in_celsius())) * 1.02 /
                          (60.0 * std::tan((e_deg + 10.3 / (e_deg + 5.11)) * kDegree)) * kDegree;
    }
    seen.zenith = std::numbers::pi / 2.0 - (seen.true_elevation + seen.refraction);
    const double from_south =
        std::atan2(std::sin(seen.hour_angle), std::cos(seen.hour_angle) * std::sin(latitude) -
                                                  std::tan(seen.declination) * std::cos(latitude));
    seen.azimuth = within_turn(from_south + std::numbers::pi);
    return seen;
}

SunTimes sun_times(Instant midnight, const Place& place, double clock_lag_s) {
    const double horizon = std::sin(-(kSunRadius + kUsualRefraction));
    const auto above = [&](Instant at) {
        return geocentric_sine(at, place, clock_lag_s) - horizon;
    };
    const auto sun_hour = [&](Instant at) {
        const auto sun = sun_ephemeris(at, clock_lag_s);
        return std::remainder(sun.sidereal_time + place.longitude_rad - sun.right_ascension, kTurn);
    };
    SunTimes times;
    // A step is short enough that the sun does not rise and set within one but for the days on
    // which it barely does either, where it is then said to do neither.
    constexpr auto kStep = std::chrono::minutes(10);
    constexpr int kSteps = 24 * 6;
    for (int k = 0; k < kSteps; ++k) {
        const Instant from = midnight + k * kStep;
        const Instant to = from + kStep;
        if (above(from) < 0.0 && above(to) >= 0.0) {
            times.rise = crossing(from, to, above);
        }
        if (above(from) >= 0.0 && above(to) < 0.0) {
            times.set = crossing(from, to, above);
        }
        if (sun_hour(from) < 0.0 && sun_hour(to) >= 0.0 && sun_hour(to) < 1.0) {
            times.noon = crossing(from, to, sun_hour);
        }
    }
    return times;
}

double irradiance_outside_air(double distance) {
    constexpr double kAtOneUnit = 1361.0;
    return kAtOneUnit / (distance * distance);
}

}  // namespace beetwright::weather
