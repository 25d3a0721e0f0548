// Weather for programs and screens. docs/formats/api.md.
#pragma once

#include <map>
#include <string>

#include "io/weather_season.hpp"

namespace beetwright::io {

/// What somebody says beside a file, by name: latitude, longitude, elevation, clock, headings.
/// Problems: a name that is none of these, values that are no good.
Result<WeatherFacts> weather_facts(const std::map<std::string, std::string>& said);

/// One part as it was read: where, when, what is measured, what was filled, and each day.
std::string weather_part_json(WeatherPart part, const weather::KnownWeather& weather,
                              const ReadingNotes& notes);
/// An array of the parts that are known.
std::string weather_json(const weather::KnownWeather* weather);

}  // namespace beetwright::io
