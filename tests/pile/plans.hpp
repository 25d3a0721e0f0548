// Piles and weather that the tests of whole piles share. Invented.
#pragma once

#include <cmath>

#include "pile/beds.hpp"
#include "pile/humid.hpp"
#include "pile/loads.hpp"
#include "pile/pile.hpp"

namespace beetwright::pile {

/// A field heap of 9 x 3 m.
inline Plan heap(double cell = 0.3) {
    Plan plan;
    plan.shape = {.width = Length(9.0),
                  .height = Length(2.6),
                  .top_width = Length(2.0),
                  .length = Length(40.0)};
    plan.grid.cell_across = plan.grid.cell_up = Length(cell);
    plan.lots.emplace_back();
    plan.lots.back().beet = ordinary();
    plan.lots.back().celsius = 9.0;
    return plan;
}

/// The k-th hour of an autumn that falls from `start_C` by 0.1 °C a day, with days and nights,
/// fronts, wind and rain.
inline WeatherHour autumn_hour(std::size_t k, double start_C, std::size_t sides) {
    WeatherHour hour;
    const double h = static_cast<double>(k);
    const double of_day = std::sin(0.261799 * (h - 9.0));
    hour.air_C = start_C - 0.1 * h / 24.0 + 3.0 * of_day + 3.0 * std::sin(0.031 * h);
    hour.humidity = humidity_ratio_of((0.85 - 0.08 * of_day) * saturation_Pa(hour.air_C));
    hour.wind = 3.0 + 2.0 * std::sin(0.047 * h) + std::sin(0.9 * h);
    hour.wind_from = 4.4 + 1.2 * std::sin(0.011 * h);
    hour.rain_mm = std::sin(0.083 * h) > 0.9 ? 0.8 : 0.0;
    hour.sky_W_m2 = 0.82 * 5.67e-8 * std::pow(hour.air_C + kZeroCelsius, 4.0);
    hour.sun_W_m2.assign(sides, 150.0 * std::max(0.0, of_day - 0.2));
    hour.deep_ground_C = 10.0;
    return hour;
}

}  // namespace beetwright::pile
