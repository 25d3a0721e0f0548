// Invented winters for piles that were published: a mean that falls, days and nights, and fronts.
#pragma once

#include "pile/plans.hpp"

namespace beetwright::pile {

struct Winter {
    double start_C = 8.0;  ///< mean of the first days
    double end_C = 2.0;    ///< and of the last
    double days = 60.0;
    double day_night_C = 3.0;
    double fronts_C = 4.0;
    double wind = 3.5;
    double humidity = 0.88;
};

inline WeatherHour winter_hour(const Winter& winter, std::size_t k, std::size_t sides) {
    const double h = static_cast<double>(k);
    const double of_day = std::sin(0.261799 * (h - 9.0));
    const double front = 0.7 * std::sin(0.0436 * h) + 0.3 * std::sin(0.0193 * h + 1.0);
    WeatherHour hour;
    hour.air_C = winter.start_C + (winter.end_C - winter.start_C) * h / (24.0 * winter.days) +
                 winter.day_night_C * of_day + winter.fronts_C * front;
    hour.humidity =
        humidity_ratio_of((winter.humidity - 0.07 * of_day) * saturation_Pa(hour.air_C));
    hour.wind = winter.wind * (1.0 + 0.5 * std::sin(0.071 * h) + 0.2 * std::sin(0.77 * h));
    hour.wind_from = 4.4 + 0.8 * std::sin(0.009 * h);
    hour.rain_mm = std::sin(0.061 * h) > 0.92 ? 0.6 : 0.0;
    hour.sky_W_m2 = 0.83 * 5.670374419e-8 * std::pow(hour.air_C + kZeroCelsius, 4.0);
    hour.sun_W_m2.assign(sides, 110.0 * std::max(0.0, of_day - 0.3));
    hour.deep_ground_C = 10.0;
    return hour;
}

/// A pile through a winter, as it is in the end.
inline std::unique_ptr<Pile> wintered(const Plan& plan, const Winter& winter,
                                      const PileConstants& constants = central_pile()) {
    auto made = Pile::make(plan, constants);
    if (!made) {
        return nullptr;
    }
    const auto hours = static_cast<std::size_t>(24.0 * winter.days);
    for (std::size_t k = 0; k < hours; ++k) {
        if (!(*made)->pass(winter_hour(winter, k, (*made)->grid().sides.size()))) {
            return nullptr;
        }
    }
    return std::move(*made);
}

/// Sugar lost [g/t/d].
inline double lost_g_t_d(const Pile& pile) {
    const auto sum = totals(pile);
    return (sum.sugar_piled - sum.sugar_left) / sum.beet * 1e6 * 24.0 / pile.hour();
}

}  // namespace beetwright::pile
