#include "io/weather_file.hpp"

#include "io/encoding.hpp"
#include "io/weather_parts.hpp"

namespace beetwright::io {
namespace {

WeatherFormat format_of(std::string_view text) {
    if (text.starts_with("LOCATION,")) {
        return WeatherFormat::epw;
    }
    const auto second = text.substr(std::min(text.find('\n') + 1, text.size()));
    return second.starts_with("Date (MM/DD/YYYY)") ? WeatherFormat::tmy3 : WeatherFormat::table;
}

}  // namespace

Result<WeatherReading> read_weather(std::string_view bytes, const std::string& file,
                                    const WeatherFacts& facts) {
    std::string decoded;
    const auto text = as_utf8(bytes, decoded, file);
    if (!text) {
        return text.problems();
    }
    WeatherReading reading;
    reading.format = format_of(*text);
    WeatherRows rows;
    rows.facts.file = file;
    ProblemList problems;
    switch (reading.format) {
        case WeatherFormat::epw: read_epw(*text, rows, problems); break;
        case WeatherFormat::tmy3: read_tmy3(*text, rows, problems); break;
        case WeatherFormat::table: read_weather_table(*text, facts, rows, problems); break;
    }
    if (!problems.empty()) {
        return std::move(problems).take();
    }
    if (facts.latitude_deg && facts.longitude_deg) {
        rows.facts.place = weather::Place::degrees(*facts.latitude_deg, *facts.longitude_deg,
                                                   facts.elevation_m.value_or(0.0));
    }
    auto series = weather::series_from(rows.records, rows.facts);
    if (!series) {
        return series.problems();
    }
    reading.series = std::move(*series);
    reading.stamp = rows.facts.stamp;
    reading.is_typical_year = rows.is_typical_year;
    return reading;
}

}  // namespace beetwright::io
