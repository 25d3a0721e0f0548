// What a series of weather holds, month by month, and the hours it leaves for lifting, week by
// week.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/catalogue.hpp"
#include "base/estimate.hpp"
#include "weather/consistency.hpp"
#include "weather/lifting_hours.hpp"
#include "weather/series.hpp"

namespace beetwright::engine {

struct WeatherQuestion {
    /// Beets straight to the slicer are not held by warmth.
    bool goes_to_pile = true;
    bool works_at_night = true;
    /// The field's; where nobody knows it the usual rules hold.
    std::optional<weather::SoilClass> soil = std::nullopt;
    std::size_t draws = 200;
    std::uint64_t seed = 1;
};

struct WeatherMonth {
    std::chrono::year_month month;
    std::size_t hours = 0;
    double mean_K = 0.0;
    double least_K = 0.0;
    double most_K = 0.0;
    double rain_mm = 0.0;         ///< NaN where the series has none
    double sunshine_MJ_m2 = 0.0;  ///< NaN where nobody measured it
};

/// The ground under beet, day by day, by the constants' best values.
struct WeekOfGround {
    double moisture = 0.0;  ///< of the topsoil, at the end of the week's last day [m3/m3]
    std::array<std::size_t, weather::kConsistencies> days{};  ///< of each consistency
};

/// Seven days from Monday, or what the series has of them.
struct WeatherWeek {
    Day monday{};
    std::size_t hours = 0;
    /// Open to lifting, with the 90 % interval that the rules' constants leave [h].
    Estimate<double> open;
    /// Hours held by each reason, by the constants' best values; one hour may be held by several
    /// [h].
    std::array<std::size_t, weather::kHolds> held{};
    /// Where the soil is known, and rain was measured.
    std::optional<WeekOfGround> ground = std::nullopt;
};

struct WeatherAnswer {
    std::vector<WeatherMonth> months;
    std::vector<WeatherWeek> weeks;
    std::vector<std::string> assumptions;  ///< what stood in for what the series lacks
};

WeatherAnswer ask_weather(const weather::Series& series, const Catalogue& catalogue,
                          const WeatherQuestion& question = {});

}  // namespace beetwright::engine
