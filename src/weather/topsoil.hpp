// How moist the ground under sugar beet is from day to day: the 25 cm that roots are lifted from,
// and what wheels stand on below.
//
// The roots' water is soil_water.hpp's balance, which knows one moisture for all that is rooted.
// Rain in autumn wets a dry soil from above, so the topsoil is reckoned apart from it.
// docs/methods/topsoil.md.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "weather/consistency.hpp"
#include "weather/lifting_hours.hpp"
#include "weather/soil_water.hpp"

namespace beetwright::weather {

inline constexpr double kTopsoil_m = 0.25;

struct TopsoilQuestion {
    SoilClass soil = SoilClass::loam;
    /// Of the water that roots can take, what is there on the first day. Nothing said: all, where
    /// the series begins in winter or while beets are small, else half.
    std::optional<double> first_filling = std::nullopt;
};

/// At the end of a day on the local clock.
struct TopsoilDay {
    Day day{};
    double moisture = 0.0;        ///< of the topsoil [m3/m3]
    double moisture_below = 0.0;  ///< of what is rooted under it
    Depth_mm rain = 0.0;
    Depth_mm evaporation = 0.0;
    Depth_mm transpiration = 0.0;
    Depth_mm topsoil_transpiration = 0.0;  ///< of it, out of the topsoil
    Depth_mm leaving_topsoil = 0.0;        ///< downward, or off the field
    Depth_mm drainage = 0.0;               ///< out of what is rooted
};

/// The days of a series, whose sky hours these are. Beets are sown on 1 April, in the south on 1
/// October, and gone by the end of nine months.
std::vector<TopsoilDay> topsoil_days(const Series& series, std::span<const SkyHour> sky,
                                     const TopsoilQuestion& question,
                                     const SoilConstants& constants);

/// Days from the last sowing to a day; nothing when no beets stand.
std::optional<int> days_from_sowing(Day day, const Place& place);

}  // namespace beetwright::weather
