// The weather of a season, as files of its folder: weather_observed.csv, weather_forecast.csv and
// weather_usual.csv. Each is a file of weather as any other (weather_file.hpp); what we write is a
// plain table of hours. docs/formats/weather.md.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/unit.hpp"
#include "io/season_folder.hpp"
#include "io/weather_file.hpp"
#include "weather/known.hpp"

namespace beetwright::io {

enum class WeatherPart { observed, forecast, usual };
inline constexpr std::array kWeatherParts{WeatherPart::observed, WeatherPart::forecast,
                                          WeatherPart::usual};

/// "observed", "forecast", "usual".
std::string_view word_of(WeatherPart part);
std::optional<WeatherPart> weather_part_named(std::string_view word);
/// "weather_observed.csv"
std::string file_of(WeatherPart part);

/// What was supposed in reading, in sentences.
using ReadingNotes = std::vector<std::string>;
/// Reads one part's file and puts it in that part's place. Problems: weather_file.hpp's.
Result<ReadingNotes> read_weather_part(WeatherPart part, std::string_view bytes,
                                       const std::string& file, const WeatherFacts& facts,
                                       weather::KnownWeather& into);
/// All parts that are among the files.
Result<weather::KnownWeather> read_known_weather(const FileTexts& files);

/// The parts that are known.
FileTexts write_known_weather(const weather::KnownWeather& weather, UnitSystem system);

}  // namespace beetwright::io
