#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <variant>
#include <vector>

#include "app/grounds.hpp"
#include "common.hpp"
#include "engine/zones_question.hpp"
#include "io/ledger_words.hpp"
#include "io/numbers.hpp"
#include "io/zones_text.hpp"
#include "map_files.hpp"
#include "maps/kept_zones.hpp"
#include "maps/zone_files.hpp"
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
    bool keep = false;
};

constexpr double kCell_m = 5.0;

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

/// The zones in the form that a file's name asks for.
Result<std::string> written(const maps::ZonePlan& plan, const maps::ZoneFileFacts& facts,
                            const std::string& file) {
    const auto forms = maps::zone_forms();
    auto ending = std::filesystem::path(file).extension().string();
    ending = ending == ".json" ? ".geojson" : ending;
    const auto form = std::ranges::find(forms, ending, &maps::ZoneForm::ending);
    if (form == forms.end()) {
        return Problem{
            ProblemKind::input,
            {.file = "", .line = 0, .field = "--out"},
            "'" + ending + "' is no form that zones are written in",
            "name the file .html for a page to print, .geojson, .kml, .gpx, or .zip for ISO "
            "11783-10 task data"};
    }
    auto made = form->write(plan, facts);
    if (!made) {
        return made.problems();
    }
    for (const auto& note : made->notes) {
        fmt::print(stderr, "{}: {}\n", file, note);
    }
    return std::move(made->bytes);
}

/// A season file that keeps fields' ground.
Result<std::unique_ptr<app::Grounds>> grounds_of(const std::string& season) {
    std::error_code error;
    if (std::filesystem::is_directory(season, error)) {
        return Problem{ProblemKind::input,
                       {.file = season, .line = 0, .field = "--season"},
                       "a folder of tables keeps no heights and no zones",
                       "name a season file, or say --log"};
    }
    return app::Grounds::open(season);
}

/// The ground as the log and the border say it, or as the season file keeps it.
Result<app::Grounds::SurfaceHeld> surface_for(const ZonesOptions& options, double cell_m) {
    if (options.log.empty()) {
        const auto grounds = grounds_of(options.season);
        return grounds ? (*grounds)->surface(options.field) : grounds.problems();
    }
    ground::SurfaceWish wish{.cell_m = cell_m};
    Problems problems;
    const auto heights = read_ground(options.log, options.field, maps::read_heights);
    if (!heights) {
        problems = heights.problems();
    }
    if (!options.boundary.empty()) {
        const auto border = read_ground(options.boundary, options.field, maps::read_border);
        if (!border) {
            problems.insert(problems.end(), border.problems().begin(), border.problems().end());
        } else {
            wish.boundary = border->area;
            for (const auto& note : border->notes) {
                fmt::print(stderr, "{}: {}\n", options.boundary, note);
            }
        }
    }
    if (!problems.empty()) {
        return problems;
    }
    auto surface =
        std::visit([&](const auto& one) { return ground::surface_of(one, wish); }, *heights);
    if (!surface) {
        return surface.problems();
    }
    return std::make_shared<const ground::Surface>(std::move(*surface));
}

/// Keeps the zones in the season file.
Result<std::string> keep(const ZonesOptions& options, const ledger::Season& season,
                         const engine::ZonesAnswer& answer, const maps::ZonePlan& plan) {
    const auto grounds = grounds_of(options.season);
    if (!grounds) {
        return grounds.problems();
    }
    return (*grounds)->set(season,
                           {.part = records::GroundPart::zones,
                            .field = options.field,
                            .bytes = maps::kept_zones_text(maps::zones_to_keep(answer, plan))},
                           Uuid(), now());
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
    const auto width = number_of("--width", options.width, 0.3, 30.0);
    const auto cell = number_of("--cell", options.cell, 1.0, 50.0);
    const auto at = chosen_instant(options.at);
    take(season);
    take(width);
    take(cell);
    take(at);
    engine::ZonesQuestion question{.field = options.field};
    if (!options.slice_in.empty()) {
        if (const auto read = io::read_days(options.slice_in)) {
            question.slice_after_days = *read;
        } else {
            problems.push_back(said_of("--slice-in", read.problems()));
        }
    }
    const auto surface = surface_for(options, cell ? cell->value_or(kCell_m) : kCell_m);
    take(surface);
    if (!problems.empty()) {
        return tell(problems);
    }
    question.at = *at;
    if (*width) {
        question.width = Length(**width);
    }
    const auto answer = engine::ask_zones(*season, **surface, question);
    if (!answer) {
        return tell(answer.problems());
    }
    const auto plan = maps::plan_of(season->name, **surface, *answer);
    if (options.keep) {
        if (const auto kept = keep(options, *season, *answer, plan); !kept) {
            return tell(kept.problems());
        }
    }
    if (!options.out.empty()) {
        const maps::ZoneFileFacts facts{
            .version = BEETWRIGHT_VERSION,
            .page = maps::page_facts(*answer, **surface, season->currency,
                                     chosen_units(options.units, *season))};
        const auto text = written(plan, facts, options.out);
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
    verb.option(
        "--log", options->log,
        "what a receiver wrote down while the field was driven, or a grid of heights "
        "(docs/formats/maps.md), or task data (docs/formats/iso11783.md); without it the heights "
        "and the border that the season file keeps");
    verb.option("--boundary", options->boundary,
                "the field's border: GeoJSON, a shapefile, or task data");
    verb.option("--width", options->width, "metres; else by the machine's rows");
    verb.option("--cell", options->cell, "metres; 5 where it is not said");
    verb.option("--slice-in", options->slice_in,
                "days or weeks from lifting to slicing, whatever the season says: 2d, 8w");
    verb.option(
        "--out", options->out,
        "writes the zones and their settings here: .html to print, .geojson, .kml, .gpx, or .zip "
        "for task data");
    verb.flag("--keep", options->keep, "keeps the zones in the season file");
    add_season_options(verb, *options);
    verb.does([options] { return show_zones(*options); });
}

}  // namespace beetwright::cli
