#include <fmt/format.h>

#include <filesystem>
#include <memory>
#include <optional>
#include <vector>

#include "app/grounds.hpp"
#include "common.hpp"
#include "io/json.hpp"
#include "io/json_read.hpp"
#include "map_files.hpp"
#include "maps/zip.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

using records::GroundPart;

struct GroundOptions {
    std::string field;
    std::string season;
    std::string border;
    std::string heights;
    std::string crs;
    std::string height_unit;
    std::string first_day;
    std::string forget;
};

/// One file's bytes, or an archive of several that belong together.
Result<std::string> together(const MapFiles& files) {
    if (files.bytes.size() == 1) {
        return files.bytes.front();
    }
    std::vector<maps::NamedFile> named;
    for (std::size_t i = 0; i < files.names.size(); ++i) {
        named.push_back(
            {std::filesystem::path(files.names[i]).filename().string(), files.bytes[i]});
    }
    return maps::write_zip(named);
}

/// Keeps what a file says, and tells what was supposed in reading it.
Result<Done> keep(app::Grounds& grounds, const ledger::Season& season, const GroundOptions& options,
                  GroundPart part, const std::string& file) {
    const auto files = read_map_files(file);
    if (!files) {
        return files.problems();
    }
    auto bytes = together(*files);
    if (!bytes) {
        return bytes.problems();
    }
    app::GroundSent sent{.part = part,
                         .field = options.field,
                         .file = std::filesystem::path(file).filename().string(),
                         .bytes = std::move(*bytes)};
    for (const auto& [name, value] :
         {std::pair{"crs", options.crs}, std::pair{"height_unit", options.height_unit},
          std::pair{"first_day", options.first_day}}) {
        if (!value.empty()) {
            sent.said.emplace(name, value);
        }
    }
    const auto kept = grounds.set(season, sent, Uuid(), now());
    if (!kept) {
        return kept.problems();
    }
    const auto answer = io::parse_json(*kept, file);
    const auto* notes = answer ? answer->find("notes") : nullptr;
    fmt::print("{}: the {} of {}\n", file, words(part), options.field);
    for (std::size_t i = 0; notes != nullptr && i < notes->items().size(); ++i) {
        if (const auto* words = notes->items()[i].text()) {
            fmt::print("  {}\n", *words);
        }
    }
    return Done{};
}

int change_ground(const GroundOptions& options) {
    const auto season = load_season(options.season);
    if (!season) {
        return tell(season.problems());
    }
    const auto grounds = app::Grounds::open(options.season);
    if (!grounds) {
        return tell(grounds.problems());
    }
    if (!options.forget.empty()) {
        const auto done = (*grounds)->remove(
            options.field, *records::ground_part_named(options.forget), Uuid(), now());
        if (!done) {
            return tell(done.problems());
        }
        fmt::print("The {} of {}: no longer kept\n", options.forget, options.field);
    }
    for (const auto& [part, file] : {std::pair{GroundPart::border, options.border},
                                     std::pair{GroundPart::heights, options.heights}}) {
        if (file.empty()) {
            continue;
        }
        if (const auto done = keep(**grounds, *season, options, part, file); !done) {
            return tell(done.problems());
        }
    }
    return 0;
}

}  // namespace

void add_ground(CommandLine& program) {
    auto options = std::make_shared<GroundOptions>();
    auto verb = program.verb("ground", "Keep a field's border and heights in a season file");
    verb.option("field", options->field, "the field, by its name").required();
    verb.option("--season", options->season, "season file").required();
    verb.option("--border", options->border,
                "the field's border: GeoJSON, a shapefile, or task data");
    verb.option("--heights", options->heights,
                "a receiver's log, a grid of heights, or task data (docs/formats/maps.md)");
    verb.option("--crs", options->crs, "what the file's coordinates are in: EPSG:25832");
    verb.option("--height-unit", options->height_unit, "what its heights are in: ft");
    verb.option("--first-day", options->first_day,
                "on which a log begins that has only times: 2031-10-04");
    verb.option("--forget", options->forget, "no longer keeps this of the field")
        .one_of({"border", "heights", "zones"});
    verb.does(
        [options] { return change_ground(*options); },
        [options]() -> std::optional<std::string> {
            if (options->border.empty() && options->heights.empty() && options->forget.empty()) {
                return "say --border, --heights or --forget";
            }
            return std::nullopt;
        });
}

}  // namespace beetwright::cli
