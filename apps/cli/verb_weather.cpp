#include <fmt/format.h>

#include <memory>

#include "common.hpp"
#include "io/decimal.hpp"
#include "io/weather_text.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct WeatherOptions {
    std::string file;
    std::string latitude;
    std::string longitude;
    std::string elevation;
    std::string clock;
    std::string headings;
    std::string units = "metric";
    bool no_nights = false;
    bool to_slicer = false;
};

/// A number given on the command line; nothing where none was.
Result<std::optional<double>> number(const std::string& name, const std::string& text) {
    if (text.empty()) {
        return std::optional<double>();
    }
    const auto read = io::leading_decimal(text);
    if (!read || read->length != text.size()) {
        return Problem{ProblemKind::input,
                       {.file = "", .line = 0, .field = name},
                       "'" + text + "' is not a number",
                       "write degrees with decimals, and metres"};
    }
    return std::optional(read->value);
}

/// "+01:00"
Result<std::optional<std::chrono::minutes>> clock(const std::string& text) {
    if (text.empty()) {
        return std::optional<std::chrono::minutes>();
    }
    // An instant's offset is written the same way.
    const auto there = parse_instant("2031-01-01T12:00:00" + text);
    const auto here = parse_instant("2031-01-01T12:00:00Z");
    if (!there) {
        return Problem{ProblemKind::input,
                       {.file = "", .line = 0, .field = "--clock"},
                       "'" + text + "' is not how far a clock is ahead of UTC",
                       "write it as +01:00 or -08:00"};
    }
    return std::optional(std::chrono::duration_cast<std::chrono::minutes>(*here - *there));
}

Result<io::WeatherFacts> facts_of(const WeatherOptions& options) {
    const auto latitude = number("--latitude", options.latitude);
    const auto longitude = number("--longitude", options.longitude);
    const auto elevation = number("--elevation", options.elevation);
    const auto ahead = clock(options.clock);
    Problems problems;
    const auto gather = [&](const auto& result) {
        if (!result) {
            problems.insert(problems.end(), result.problems().begin(), result.problems().end());
        }
    };
    gather(latitude);
    gather(longitude);
    gather(elevation);
    gather(ahead);
    if (!problems.empty()) {
        return problems;
    }
    return io::WeatherFacts{.latitude_deg = *latitude,
                            .longitude_deg = *longitude,
                            .elevation_m = *elevation,
                            .clock = *ahead,
                            .headings = options.headings};
}

int show_weather(const WeatherOptions& options) {
    const auto facts = facts_of(options);
    if (!facts) {
        return tell(facts.problems());
    }
    const auto bytes = read_file(options.file);
    if (!bytes) {
        return tell(bytes.problems());
    }
    const auto reading = io::read_weather(*bytes, options.file, *facts);
    if (!reading) {
        return tell(reading.problems());
    }
    const auto answer = engine::ask_weather(
        reading->series, Catalogue{},
        {.goes_to_pile = !options.to_slicer, .works_at_night = !options.no_nights});
    const auto units = options.units == "us" ? UnitSystem::us : UnitSystem::metric;
    fmt::print("{}", io::weather_text(*reading, answer, units));
    return 0;
}

}  // namespace

void add_weather(CommandLine& program) {
    auto options = std::make_shared<WeatherOptions>();
    auto verb =
        program.verb("weather", "Show what a file of weather holds, and the hours fit for lifting");
    verb.option("file", options->file, "EPW, TMY3, or a table of hours (docs/formats/weather.md)")
        .required();
    verb.option("--latitude", options->latitude, "degrees, north is positive");
    verb.option("--longitude", options->longitude, "degrees, east is positive");
    verb.option("--elevation", options->elevation, "metres");
    verb.option("--clock", options->clock, "local time is ahead of UTC by this, such as +01:00");
    verb.option("--headings", options->headings,
                "our headings in place of a table's own, such as \"at,temperature [°C]\"");
    verb.option("--units", options->units, "metric or us").one_of({"metric", "us"}).shows_default();
    verb.flag("--no-nights", options->no_nights, "the crew does not lift in the dark");
    verb.flag("--to-slicer", options->to_slicer, "beets are not piled: warmth holds nothing");
    verb.does([options] { return show_weather(*options); });
}

}  // namespace beetwright::cli
