#include "engine/pile_weather.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "weather/air.hpp"
#include "weather/irradiance.hpp"
#include "weather/sky.hpp"
#include "weather/sun.hpp"

namespace beetwright::engine {
namespace {

using weather::Element;

constexpr double kHalfASky = 0.5;
/// Lower than this the sun gives nothing that counts, and ratios of cosines mean nothing.
constexpr double kLowSun_cos = 0.02;

double or_else(double value, double otherwise) {
    return std::isnan(value) ? otherwise : value;
}

/// The least temperature from twelve hours before to twelve after [K]: about the dew point.
double least_about(const weather::Series& series, std::size_t k) {
    constexpr std::size_t kHalfDay = 12;
    double least = series.at(k, Element::air);
    const std::size_t end = std::min(series.hours.size(), k + kHalfDay + 1);
    for (std::size_t h = k > kHalfDay ? k - kHalfDay : 0; h < end; ++h) {
        least = std::min(least, series.at(h, Element::air));
    }
    return least;
}

Temperature dew_point_of(const weather::Series& series, std::size_t k, Temperature air) {
    const double dew = series.at(k, Element::dew_point);
    const double humidity = series.at(k, Element::humidity);
    if (!std::isnan(dew)) {
        return std::min(Temperature::kelvin(dew), air);
    }
    if (!std::isnan(humidity)) {
        return weather::dew_point(std::clamp(humidity, 0.05, 1.0) *
                                  weather::saturation_pressure_Pa(air));
    }
    return Temperature::kelvin(least_about(series, k));
}

weather::Sunshine sunshine_of(const weather::Series& series, std::size_t k,
                              const weather::SunPosition& sun, double cloud) {
    const double height = std::cos(sun.zenith);
    weather::Sunshine shine;
    shine.global = std::max(
        0.0, or_else(series.at(k, Element::global), weather::sunshine_under_cloud(sun, cloud)));
    // What nobody split is half of the sky's where half of the sky is covered.
    const double clear = std::clamp(1.0 - cloud, 0.0, 1.0);
    shine.diffuse = or_else(series.at(k, Element::diffuse), shine.global * (1.0 - 0.75 * clear));
    const double beam = std::max(0.0, shine.global - shine.diffuse);
    shine.direct_normal =
        or_else(series.at(k, Element::direct), height > kLowSun_cos ? beam / height : 0.0);
    return shine;
}

}  // namespace

Result<std::vector<pile::WeatherHour>> pile_weather(const weather::Series& series,
                                                    std::span<const pile::ShapeSide> sides,
                                                    const PileSite& site) {
    if (!series.has(Element::air)) {
        return Problem{ProblemKind::missing,
                       {.file = "", .line = 0, .field = "weather"},
                       "the weather has no temperature of the air",
                       "read weather with hourly temperatures"};
    }
    std::vector<pile::WeatherHour> hours;
    hours.reserve(series.hours.size());
    for (std::size_t k = 0; k < series.hours.size(); ++k) {
        const auto air = Temperature::kelvin(series.at(k, Element::air));
        const auto dew = dew_point_of(series, k, air);
        const double cloud = or_else(series.at(k, Element::cloud), kHalfASky);
        const auto middle = series.begin_of(k) + std::chrono::minutes(30);
        const auto sun = weather::sun_position(middle, series.place);
        auto& hour = hours.emplace_back();
        hour.air_C = air.in_celsius();
        // A pile reckons at the pressure of the sea; at its own height the same vapour is meant.
        hour.humidity =
            weather::humidity_ratio(weather::saturation_pressure_Pa(dew), weather::kSeaLevel_Pa);
        hour.wind = std::max(0.0, or_else(series.at(k, Element::wind), 3.0));
        hour.wind_from = site.wind_from;
        hour.rain_mm = std::max(0.0, or_else(series.at(k, Element::rain), 0.0));
        hour.sky_W_m2 = or_else(series.at(k, Element::sky),
                                weather::sky_radiation_clark_allen(air, dew, cloud));
        hour.sun_W_m2.assign(sides.size(), 0.0);
        if (std::cos(sun.zenith) > 0.0) {
            const auto shine = sunshine_of(series, k, sun, cloud);
            for (std::size_t s = 0; s < sides.size(); ++s) {
                hour.sun_W_m2[s] = weather::isotropic_irradiance({sides[s].tilt, sides[s].azimuth},
                                                                 sun, shine, site.ground_albedo)
                                       .total();
            }
        }
        const auto year = std::chrono::year_month_day(series.day_of(k)).year();
        const auto day = series.day_of(k) - Day(year / std::chrono::January / 1);
        hour.deep_ground_C = weather::ground_temperature(site.ground, site.ground_depth,
                                                         static_cast<double>(day.count() + 1))
                                 .in_celsius();
    }
    return hours;
}

}  // namespace beetwright::engine
