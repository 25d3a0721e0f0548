#include <fmt/format.h>

#include <memory>

#include "common.hpp"
#include "io/weather_json.hpp"
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
    std::string soil;
    std::string units = "metric";
    bool no_nights = false;
    bool to_slicer = false;
};

Result<io::WeatherFacts> facts_of(const WeatherOptions& options) {
    return io::weather_facts({{"latitude", options.latitude},
                              {"longitude", options.longitude},
                              {"elevation", options.elevation},
                              {"clock", options.clock},
                              {"headings", options.headings}});
}

/// A soil in the words of growers; nothing where none was given.
Result<std::optional<weather::SoilClass>> soil(const std::string& words) {
    if (words.empty()) {
        return std::optional<weather::SoilClass>();
    }
    const auto named = weather::soil_class_named(words);
    if (!named) {
        std::string names;
        for (const auto& known : weather::soils()) {
            names += (names.empty() ? "" : ", ") + std::string(known.name);
        }
        return Problem{ProblemKind::input,
                       {.file = "", .line = 0, .field = "--soil"},
                       "'" + words + "' is no soil that is known here",
                       "write one of: " + names};
    }
    return named;
}

int show_weather(const WeatherOptions& options) {
    const auto facts = facts_of(options);
    if (!facts) {
        return tell(facts.problems());
    }
    const auto soil_class = soil(options.soil);
    if (!soil_class) {
        return tell(soil_class.problems());
    }
    const auto bytes = read_file(options.file);
    if (!bytes) {
        return tell(bytes.problems());
    }
    const auto reading = io::read_weather(*bytes, options.file, *facts);
    if (!reading) {
        return tell(reading.problems());
    }
    const auto answer = engine::ask_weather(reading->series, Catalogue{},
                                            {.goes_to_pile = !options.to_slicer,
                                             .works_at_night = !options.no_nights,
                                             .soil = *soil_class});
    const auto units = options.units == "us" ? UnitSystem::us : UnitSystem::metric;
    fmt::print("{}", io::weather_text(*reading, answer, units));
    return 0;
}

}  // namespace

void add_weather(CommandLine& program) {
    auto options = std::make_shared<WeatherOptions>();
    auto verb =
        program.verb("weather", "Show what a file of weather holds, and the hours fit for lifting");
    verb.option("file", options->file,
                "EPW, TMY3, or a table of hours or days (docs/formats/weather.md)")
        .required();
    verb.option("--latitude", options->latitude, "degrees, north is positive");
    verb.option("--longitude", options->longitude, "degrees, east is positive");
    verb.option("--elevation", options->elevation, "metres");
    verb.option("--clock", options->clock, "local time is ahead of UTC by this, such as +01:00");
    verb.option("--headings", options->headings,
                "our headings in place of a table's own, such as \"at,temperature [°C]\"");
    verb.option("--soil", options->soil,
                "the field's soil, such as \"sandy loam\": rules for it, and its topsoil by week");
    verb.option("--units", options->units, "metric or us").one_of({"metric", "us"}).shows_default();
    verb.flag("--no-nights", options->no_nights, "the crew does not lift in the dark");
    verb.flag("--to-slicer", options->to_slicer, "beets are not piled: warmth holds nothing");
    verb.does([options] { return show_weather(*options); });
}

}  // namespace beetwright::cli
