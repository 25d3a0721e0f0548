#include <fmt/format.h>

#include <filesystem>
#include <memory>
#include <variant>
#include <vector>

#include "common.hpp"
#include "engine/zones_question.hpp"
#include "io/ledger_words.hpp"
#include "io/numbers.hpp"
#include "io/zones_text.hpp"
#include "maps/field_ground.hpp"
#include "maps/geojson.hpp"
#include "maps/gpx.hpp"
#include "maps/iso11783_write.hpp"
#include "maps/kml.hpp"
#include "maps/zip.hpp"
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

/// A file with those that stand beside it and belong to it.
struct Files {
    std::vector<std::string> names;
    std::vector<std::string> bytes;

    [[nodiscard]] std::vector<maps::MapFile> maps() const {
        std::vector<maps::MapFile> all;
        for (std::size_t i = 0; i < names.size(); ++i) {
            all.push_back({names[i], bytes[i]});
        }
        return all;
    }
};

/// Of a shapefile, or a grid whose system stands beside it, the companions are found by their name.
Result<Files> read_files(const std::string& file) {
    Files files;
    auto bytes = read_file(file);
    if (!bytes) {
        return bytes.problems();
    }
    files.names.push_back(file);
    files.bytes.push_back(std::move(*bytes));
    if (maps::is_zip(files.bytes.front())) {
        return files;  // with all that belongs to it inside
    }
    const std::filesystem::path path(file);
    for (const char* ending : {".dbf", ".prj", ".cpg"}) {
        auto beside = path;
        beside.replace_extension(ending);
        std::error_code none;
        if (beside != path && std::filesystem::is_regular_file(beside, none)) {
            auto more = read_file(beside.string());
            if (!more) {
                return more.problems();
            }
            files.names.push_back(beside.string());
            files.bytes.push_back(std::move(*more));
        }
    }
    return files;
}

/// What a file on the disk says of a field's ground, by one of the readers of field_ground.hpp.
template <class Reading>
Result<Reading> read_ground(const std::string& file, const std::string& field,
                            Result<Reading> (*read)(std::span<const maps::MapFile>,
                                                    const std::string&, const maps::MapFacts&)) {
    const auto files = read_files(file);
    if (!files) {
        return files.problems();
    }
    return read(files->maps(), field, {});
}

/// The zones in the form that a file's name asks for.
Result<std::string> written(const maps::ZonePlan& plan, const std::string& file) {
    const auto ending = std::filesystem::path(file).extension();
    if (ending == ".kml") {
        return maps::write_kml(plan);
    }
    if (ending == ".gpx") {
        return maps::write_gpx(plan);
    }
    if (ending == ".geojson" || ending == ".json") {
        return maps::write_geojson(plan);
    }
    if (ending == ".zip") {
        auto data = maps::write_task_data(plan, {.version = BEETWRIGHT_VERSION});
        if (!data) {
            return data.problems();
        }
        for (const auto& note : data->notes) {
            fmt::print(stderr, "{}: {}\n", file, note);
        }
        return std::move(data->zip);
    }
    return Problem{ProblemKind::input,
                   {.file = "", .line = 0, .field = "--out"},
                   "'" + ending.string() + "' is no form that zones are written in",
                   "name the file .geojson, .kml, .gpx, or .zip for ISO 11783-10 task data"};
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
    const auto heights = read_ground(options.log, options.field, maps::read_heights);
    const auto width = number_of("--width", options.width, 0.3, 30.0);
    const auto cell = number_of("--cell", options.cell, 1.0, 50.0);
    const auto at = chosen_instant(options.at);
    take(season);
    take(heights);
    take(width);
    take(cell);
    take(at);
    ground::SurfaceWish wish;
    if (!options.boundary.empty()) {
        const auto border = read_ground(options.boundary, options.field, maps::read_border);
        if (take(border)) {
            wish.boundary = border->area;
            for (const auto& note : border->notes) {
                fmt::print(stderr, "{}: {}\n", options.boundary, note);
            }
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
    const auto surface =
        std::visit([&](const auto& one) { return ground::surface_of(one, wish); }, *heights);
    if (!surface) {
        return tell(surface.problems());
    }
    const auto answer = engine::ask_zones(*season, *surface, question);
    if (!answer) {
        return tell(answer.problems());
    }
    if (!options.out.empty()) {
        const auto text = written(maps::plan_of(season->name, *surface, *answer), options.out);
        if (!text) {
            return tell(text.problems());
        }
        const auto done = write_file(options.out, *text);
        if (!done) {
            return tell(done.problems());
        }
    }
    fmt::print("{}", options.json ? io::zones_json(*answer, season->currency)
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
                "what a receiver wrote down while the field was driven, or a grid of heights "
                "(docs/formats/maps.md), or task data (docs/formats/iso11783.md)")
        .required();
    verb.option("--boundary", options->boundary,
                "the field's border: GeoJSON, a shapefile, or task data");
    verb.option("--width", options->width, "metres; else by the machine's rows");
    verb.option("--cell", options->cell, "metres; 5 where it is not said");
    verb.option("--slice-in", options->slice_in,
                "days or weeks from lifting to slicing, whatever the season says: 2d, 8w");
    verb.option(
        "--out", options->out,
        "writes the zones and their settings here: .geojson, .kml, .gpx, or .zip for task data");
    add_season_options(verb, *options);
    verb.does([options] { return show_zones(*options); });
}

}  // namespace beetwright::cli
