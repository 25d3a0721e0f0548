// The demo season's weather hour by hour: as a station in the marsh read it until the story is
// told, as thirty runs of a forecast have it from then on, and as a usual year brings it.
#pragma once

#include <cstdint>

#include "demo_season/reading.hpp"
#include "demo_season/weather.hpp"
#include "weather/known.hpp"

namespace beetwright::demo {

weather::KnownWeather known_weather(const Weather& weather, std::uint64_t seed,
                                    const Reader& reader);

}  // namespace beetwright::demo
