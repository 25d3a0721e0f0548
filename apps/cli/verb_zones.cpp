#include <fmt/format.h>

#include <memory>

#include "common.hpp"
#include "engine/zones_question.hpp"
#include "io/ledger_words.hpp"
#include "io/numbers.hpp"
#include "io/zones_text.hpp"
#include "maps/geojson.hpp"
#include "maps/nmea.hpp"
#include "maps/point_table.hpp"
#include "maps/zone_outline.hpp"
#include "season_options.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct ZonesOptions : SeasonOptions {
    std::string field;
    std::string log;
    std::string boundary;
    std::string width;
    std::string cell;
    std::string slice_in;
    std::string out;
};

/// A number with bounds; nothing where none was given.
Result<std::optional<double>> number_of(const std::string& option, const std::string& words,
                                        double least, double most) {
    if (words.empty()) {
        return std::optional<double>();
    }
    const auto number = io::NumberReader(',').read(words, 0);
    if (!number || !(*number >= least && *number <= most)) {
        return Problem{ProblemKind::input,
                       {.file = "", .line = 0, .field = option},
                       "'" + words + "' is no length here",
                       fmt::format("give metres from {} to {}", least, most)};
    }
    return std::optional<double>(*number);
}

Result<ground::Track> read_log(const std::string& file) {
    const auto bytes = read_file(file);
    if (!bytes) {
        return bytes.problems();
    }
    return maps::looks_like_nmea(*bytes) ? maps::read_nmea(*bytes, file)
                                         : maps::read_point_table(*bytes, file);
}

/// The border in a file: its only area, or the one of the field's name.
Result<ground::Area> read_boundary(const std::string& file, const std::string& field) {
    const auto bytes = read_file(file);
    if (!bytes) {
        return bytes.problems();
    }
    const auto reading = maps::read_geojson(*bytes, file);
    if (!reading) {
        return reading.problems();
    }
    std::string names;
    for (const auto& one : reading->areas) {
        if (one.name == field || reading->areas.size() == 1) {
            return one.area;
        }
        names += (names.empty() ? "" : ", ") + one.name;
    }
    return Problem{ProblemKind::missing,
                   {.file = file, .line = 0, .field = "name"},
                   "none of its areas is named '" + field + "'",
                   names.empty() ? "give a file with the field's border"
                                 : "name the field as one of: " + names};
}

int show_zones(const ZonesOptions& options) {
    Problems problems;
    const auto take = [&](const auto& result) {
        if (!result) {
            problems.insert(problems.end(), result.problems().begin(), result.problems().end());
        }
        return result.ok();
    };
    const auto season = load_season(options.season);
    const auto track = read_log(options.log);
    const auto width = number_of("--width", options.width, 0.3, 30.0);
    const auto cell = number_of("--cell", options.cell, 1.0, 50.0);
    const auto at = chosen_instant(options.at);
    take(season);
    take(track);
    take(width);
    take(cell);
    take(at);
    ground::SurfaceWish wish;
    if (!options.boundary.empty()) {
        const auto boundary = read_boundary(options.boundary, options.field);
        if (take(boundary)) {
            wish.boundary = *boundary;
        }
    }
    engine::ZonesQuestion question{.field = options.field};
    if (!options.slice_in.empty()) {
        if (const auto read = io::read_days(options.slice_in)) {
            question.slice_after_days = *read;
        } else {
            problems.push_back(said_of("--slice-in", read.problems()));
        }
    }
    if (!problems.empty()) {
        return tell(problems);
    }
    wish.cell_m = cell->value_or(wish.cell_m);
    question.at = *at;
    if (*width) {
        question.width = Length(**width);
    }
    auto surface = ground::surface_of(*track, wish);
    if (!surface) {
        return tell(surface.problems());
    }
    surface->notes.insert(surface->notes.begin(), track->notes.begin(), track->notes.end());
    const auto answer = engine::ask_zones(*season, *surface, question);
    if (!answer) {
        return tell(answer.problems());
    }
    if (!options.out.empty()) {
        const auto plan = maps::plan_of(season->name, *surface, *answer);
        const auto written = write_file(options.out, maps::write_geojson(plan));
        if (!written) {
            return tell(written.problems());
        }
    }
    fmt::print("{}", options.json
                         ? io::zones_json(*answer, season->currency)
                         : io::zones_text(*answer, season->currency,
                                          chosen_units(options.units, *season)));
    return 0;
}

}  // namespace

void add_zones(CommandLine& program) {
    auto options = std::make_shared<ZonesOptions>();
    auto verb = program.verb(
        "zones", "Into which zones a field's ground parts, and where switching settings pays");
    verb.option("field", options->field, "the field, by its name").required();
    verb.option("--log", options->log,
                "what a receiver wrote down while the field was driven (docs/formats/maps.md)")
        .required();
    verb.option("--boundary", options->boundary, "the field's border, as GeoJSON");
    verb.option("--width", options->width, "metres; else by the machine's rows");
    verb.option("--cell", options->cell, "metres; 5 where it is not said");
    verb.option("--slice-in", options->slice_in,
                "days or weeks from lifting to slicing, whatever the season says: 2d, 8w");
    verb.option("--out", options->out, "writes the zones and their settings here, as GeoJSON");
    add_season_options(verb, *options);
    verb.does([options] { return show_zones(*options); });
}

}  // namespace beetwright::cli
