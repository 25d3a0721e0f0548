#include <fmt/format.h>

#include <memory>
#include <thread>

#include "common.hpp"
#include "io/dates.hpp"
#include "io/ledger_words.hpp"
#include "io/sky_text.hpp"
#include "io/standing_text.hpp"
#include "season_options.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct FieldOptions : SeasonOptions {
    std::string field;
    std::string wait = "7d";
    std::string days = "10d";
    bool no_nights = false;
};

/// What both verbs ask for besides.
struct Asked {
    ledger::Season season;
    std::optional<Instant> at;
    int days = 0;
    UnitSystem units{};
};

Result<Asked> asked(const FieldOptions& options, const char* days_option, const std::string& days) {
    auto season = load_season(options.season);
    if (!season) {
        return season.problems();
    }
    Asked asked{.season = std::move(*season), .at = {}, .days = 0, .units = {}};
    Problems problems;
    if (const auto read = io::read_days(days)) {
        asked.days = *read;
    } else {
        problems.push_back(said_of(days_option, read.problems()));
    }
    if (const auto read = chosen_instant(options.at)) {
        asked.at = *read;
    } else {
        problems.push_back(read.problems().front());
    }
    asked.units = chosen_units(options.units, asked.season);
    return problems.empty() ? Result<Asked>(std::move(asked)) : problems;
}

int show_field(const FieldOptions& options) {
    const auto what = asked(options, "--wait", options.wait);
    if (!what) {
        return tell(what.problems());
    }
    WorkerPool pool(std::thread::hardware_concurrency());
    const auto answer = engine::ask_standing(
        what->season, {.field = options.field, .wait_days = what->days, .at = what->at}, pool);
    if (!answer) {
        return tell(answer.problems());
    }
    const auto& currency = what->season.currency;
    fmt::print("{}", options.json ? io::standing_json(*answer, currency)
                                  : io::standing_text(*answer, currency, what->units));
    return 0;
}

int show_sky(const FieldOptions& options) {
    const auto what = asked(options, "--days", options.days);
    if (!what) {
        return tell(what.problems());
    }
    WorkerPool pool(std::thread::hardware_concurrency());
    const auto answer = engine::ask_sky(what->season,
                                        {.field = options.field,
                                         .at = what->at,
                                         .days = what->days,
                                         .works_at_night = !options.no_nights},
                                        pool);
    if (!answer) {
        return tell(answer.problems());
    }
    fmt::print("{}", options.json ? io::sky_json(*answer) : io::sky_text(*answer, what->units));
    return 0;
}

}  // namespace

void add_field(CommandLine& program) {
    auto options = std::make_shared<FieldOptions>();
    auto verb = program.verb("field", "What stands in a field, and what waiting with it is worth");
    verb.option("field", options->field, "the field, by its name").required();
    verb.option("--wait", options->wait, "days or weeks to wait: 7d, 2w").shows_default();
    add_season_options(verb, *options);
    verb.does([options] { return show_field(*options); });
}

void add_sky(CommandLine& program) {
    auto options = std::make_shared<FieldOptions>();
    auto verb = program.verb("sky", "Which hours of the coming days are fit for lifting");
    verb.option("--field", options->field, "a field, by its name; a usual soil without it");
    verb.option("--days", options->days, "days ahead").shows_default();
    verb.flag("--no-nights", options->no_nights, "the crew does not lift in the dark");
    add_season_options(verb, *options);
    verb.does([options] { return show_sky(*options); });
}

}  // namespace beetwright::cli
