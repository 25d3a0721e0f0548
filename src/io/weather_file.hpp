// Reads files of weather: EPW weather years, TMY3 years, and plain tables of hours or days with
// units in their headings. docs/formats/weather.md.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "weather/series.hpp"

namespace beetwright::io {

enum class WeatherFormat { epw, tmy3, table, days };

/// What somebody says about a file that does not say it itself; it counts before what the file
/// says.
struct WeatherFacts {
    std::optional<double> latitude_deg = std::nullopt;
    std::optional<double> longitude_deg = std::nullopt;
    std::optional<double> elevation_m = std::nullopt;
    std::optional<std::chrono::minutes> clock = std::nullopt;  ///< ahead of UTC
    /// Our headings in place of the file's own: "at [yyyy-mm-dd hh:mm -08:00],temperature [°C]".
    std::string headings = {};
};

struct WeatherReading {
    weather::Series series;
    WeatherFormat format = WeatherFormat::table;
    weather::Stamp stamp = weather::Stamp::hour_ending;
    /// Put together from months of several years.
    bool is_typical_year = false;
    std::vector<std::string> notes = {};  ///< what was supposed in reading
};

/// Problems: every line that cannot be read, and what weather::series_from finds.
Result<WeatherReading> read_weather(std::string_view bytes, const std::string& file,
                                    const WeatherFacts& facts = {});

/// What a forecast's file holds.
struct ForecastReading {
    /// One for each run of the table's column `run`, by its number, all of the same hours; one
    /// alone where there is no such column.
    std::vector<weather::Series> runs;
    WeatherFormat format = WeatherFormat::table;
    std::vector<std::string> notes = {};  ///< what was supposed in reading
};
Result<ForecastReading> read_forecast(std::string_view bytes, const std::string& file,
                                      const WeatherFacts& facts = {});

/// How far a clock is ahead of UTC: "+01:00". The problem has no place yet.
Result<std::chrono::minutes> parse_clock(std::string_view text);

}  // namespace beetwright::io
