#include "engine/pile_weather.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "weather/air.hpp"
#include "weather/evapotranspiration.hpp"
#include "weather/ground.hpp"
#include "weather/irradiance.hpp"
#include "weather/lifting_hours.hpp"
#include "weather/sky.hpp"

namespace beetwright::engine {
namespace {

using weather::Element;
using weather::Series;

double pressure_Pa(const Series& series, std::size_t hour) {
    return series.has(Element::pressure) ? series.at(hour, Element::pressure)
                                         : weather::pressure_at(series.place.elevation_m);
}

/// Vapour in the air [Pa]; no more than it can hold.
double vapour_Pa(const Series& series, std::size_t hour) {
    const auto air = Temperature::kelvin(series.at(hour, Element::air));
    const double most = weather::saturation_pressure_Pa(air);
    if (series.has(Element::dew_point)) {
        const auto dew = Temperature::kelvin(series.at(hour, Element::dew_point));
        return std::min(most, weather::saturation_pressure_Pa(dew));
    }
    constexpr double kUsualHumidity = 0.85;  ///< autumn and winter; assumed
    const double share =
        series.has(Element::humidity) ? series.at(hour, Element::humidity) : kUsualHumidity;
    return std::clamp(share, 0.01, 1.0) * most;
}

double cloud_of(const Series& series, std::size_t hour) {
    return series.has(Element::cloud) ? std::clamp(series.at(hour, Element::cloud), 0.0, 1.0)
                                      : weather::kUsualCloud;
}

/// What reaches the level, in its two parts.
weather::Sunshine sunshine_of(const Series& series, std::size_t hour,
                              const weather::SunPosition& sun) {
    const double global = series.has(Element::global)
                              ? std::max(0.0, series.at(hour, Element::global))
                              : weather::sunshine_under_cloud(sun, cloud_of(series, hour));
    if (series.has(Element::direct) && series.has(Element::diffuse)) {
        return {.global = global,
                .direct_normal = std::max(0.0, series.at(hour, Element::direct)),
                .diffuse = std::max(0.0, series.at(hour, Element::diffuse))};
    }
    return weather::parted_sunshine(global, sun);
}

}  // namespace

std::vector<weather::SunPosition> suns_of(const Series& series) {
    std::vector<weather::SunPosition> suns;
    suns.reserve(series.hours.size());
    for (std::size_t hour = 0; hour < series.hours.size(); ++hour) {
        suns.push_back(
            weather::sun_position(series.begin_of(hour) + std::chrono::minutes(30), series.place));
    }
    return suns;
}

pile::WeatherHour pile_hour(const Series& series, std::size_t hour, const weather::SunPosition& sun,
                            std::span<const pile::ShapeSide> sides, double ground_albedo) {
    const auto air = Temperature::kelvin(series.at(hour, Element::air));
    const double vapour = vapour_Pa(series, hour);
    constexpr double kUsualWind_10m = weather::kUsualWind_m_s / 0.748;  ///< FAO 56, eq. 47, at 10 m
    pile::WeatherHour at{
        .air_C = air.in_celsius(),
        .humidity = weather::humidity_ratio(vapour, pressure_Pa(series, hour)),
        .wind = series.has(Element::wind) ? std::max(0.0, series.at(hour, Element::wind))
                                          : kUsualWind_10m,
        .rain_mm = series.has(Element::rain) ? std::max(0.0, series.at(hour, Element::rain)) : 0.0,
        .sky_W_m2 = series.has(Element::sky) && series.at(hour, Element::sky) > 0.0
                        ? series.at(hour, Element::sky)
                        : weather::sky_radiation_clark_allen(air, weather::dew_point(vapour),
                                                             cloud_of(series, hour)),
        .sun_W_m2 = {}};
    const auto shine = sunshine_of(series, hour, sun);
    if (shine.global <= 0.0) {
        return at;
    }
    const double outside_air = weather::irradiance_outside_air(sun.distance);
    at.sun_W_m2.reserve(sides.size());
    for (const pile::ShapeSide& side : sides) {
        const weather::Plane plane{.tilt = side.tilt, .azimuth = side.azimuth};
        at.sun_W_m2.push_back(
            weather::hay_davies_irradiance(plane, sun, shine, ground_albedo, outside_air).total());
    }
    return at;
}

double ground_celsius(const Series* climate, Day day, Length depth) {
    constexpr double kNoClimate_C = 10.0;
    if (climate == nullptr || climate->hours.size() < 300U * 24U) {
        return kNoClimate_C;
    }
    std::array<double, 12> sums{};
    std::array<double, 12> counts{};
    for (std::size_t hour = 0; hour < climate->hours.size(); ++hour) {
        const std::chrono::year_month_day date(climate->day_of(hour));
        const std::size_t month = static_cast<unsigned>(date.month()) - 1U;
        sums[month] += climate->at(hour, Element::air);
        counts[month] += 1.0;
    }
    double mean = 0.0;
    double least = 1e9;
    double most = -1e9;
    std::size_t coldest = 0;
    for (std::size_t month = 0; month < sums.size(); ++month) {
        const double of_month = sums[month] / std::max(1.0, counts[month]);
        mean += of_month / 12.0;
        most = std::max(most, of_month);
        if (of_month < least) {
            least = of_month;
            coldest = month;
        }
    }
    constexpr double kWarmerThanAir = 1.0;
    constexpr double kMonth_days = 30.4;
    const weather::GroundYear year{
        .mean = Temperature::kelvin(mean + kWarmerThanAir),
        .amplitude = TemperatureDifference(0.5 * (most - least)),
        .coldest_day = kMonth_days * (static_cast<double>(coldest) + 0.5)};
    const std::chrono::year_month_day date(day);
    const auto first = std::chrono::sys_days(date.year() / 1 / 1);
    return weather::ground_temperature(year, depth, static_cast<double>((day - first).count() + 1))
        .in_celsius();
}

}  // namespace beetwright::engine
