// Weather as a pile's sides meet it: the sun on each of them, the sky's radiation, humid air.
//
// The rooms weather and pile do not know each other; whoever asks about a pile joins them here.
#pragma once

#include <span>
#include <vector>

#include "pile/outside.hpp"
#include "weather/ground.hpp"
#include "weather/series.hpp"

namespace beetwright::engine {

struct PileSite {
    /// Where the wind mostly comes from [rad], from north through east: series do not say.
    double wind_from = 4.712;
    double ground_albedo = 0.2;
    weather::GroundYear ground{.mean = Temperature::celsius(9.5),
                               .amplitude = TemperatureDifference(8.0)};
    Length ground_depth{3.3};  ///< of the pile's lowest layer of ground
};

/// The hours of a series, for a pile with these sides. Where a series lacks humidity, sunshine or
/// the sky's radiation, they are taken from what it has: a dew point of the day's least
/// temperature, sunshine by cloud (half a sky where nobody says), the sky by dew point and cloud.
/// Problems: the series has no air temperature.
Result<std::vector<pile::WeatherHour>> pile_weather(const weather::Series& series,
                                                    std::span<const pile::ShapeSide> sides,
                                                    const PileSite& site);

}  // namespace beetwright::engine
