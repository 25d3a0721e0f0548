// What weather brings, day by day: what a person looks at to see that a file was read right.
#pragma once

#include <span>
#include <vector>

#include "base/time.hpp"
#include "weather/series.hpp"

namespace beetwright::engine {

/// One calendar day on the local clock. Of several runs: the lowest of their least, the mean of
/// their means and of their rain, and so on.
struct WeatherDayShown {
    Day day{};
    std::size_t hours = 0;   ///< of one run
    std::size_t filled = 0;  ///< of these, filled in
    double least_K = 0.0;
    double mean_K = 0.0;
    double most_K = 0.0;
    double rain_mm = 0.0;       ///< NaN where the series has none
    double most_rain_mm = 0.0;  ///< of the wettest run
};

/// `runs` are of the same hours.
std::vector<WeatherDayShown> weather_days(std::span<const weather::Series> runs);

}  // namespace beetwright::engine
