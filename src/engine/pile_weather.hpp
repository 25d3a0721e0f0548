// Weather as a pile's sides meet it, hour by hour: air and its moisture, wind, rain, the sky's
// radiation, and the sun on each side by the way that it faces.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "pile/outside.hpp"
#include "weather/series.hpp"
#include "weather/sun.hpp"

namespace beetwright::engine {

/// Where the sun stands in the middle of each hour; the same for all members of an outlook.
std::vector<weather::SunPosition> suns_of(const weather::Series& series);

/// `sides` of the pile's grid, in their order. `ground_albedo`: share of sunshine that the ground
/// throws back. What the series does not know has the stand-ins of weather/lifting_hours.hpp; a
/// wind has no direction there, and comes from the west.
pile::WeatherHour pile_hour(const weather::Series& series, std::size_t hour,
                            const weather::SunPosition& sun, std::span<const pile::ShapeSide> sides,
                            double ground_albedo);

/// The ground's temperature [°C] on a day so deep below the surface, by a year of air temperatures
/// where one is known: its mean and its warmest and coldest months, a degree warmer than the air
/// over the year ([M], from memory); 10 °C where none is.
double ground_celsius(const weather::Series* climate, Day day, Length depth);

}  // namespace beetwright::engine
