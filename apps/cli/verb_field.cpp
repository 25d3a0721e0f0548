#include <fmt/format.h>

#include <memory>
#include <thread>

#include "common.hpp"
#include "io/dates.hpp"
#include "io/ledger_words.hpp"
#include "io/sky_text.hpp"
#include "io/standing_text.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct FieldOptions {
    std::string season;
    std::string field;
    std::string wait = "7d";
    std::string days = "10d";
    std::string at;
    std::string units;
    bool no_nights = false;
    bool json = false;
};

Problem said(const char* option, const Problems& problems) {
    Problem problem = problems.front();
    problem.where.field = option;
    return problem;
}

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
        problems.push_back(said(days_option, read.problems()));
    }
    if (!options.at.empty()) {
        if (const auto read = io::read_instant(options.at, {})) {
            asked.at = *read;
        } else {
            problems.push_back(said("--at", read.problems()));
        }
    }
    asked.units = options.units == "us"       ? UnitSystem::us
                  : options.units == "metric" ? UnitSystem::metric
                                              : asked.season.units;
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

template <class Verb>
void add_common(Verb& verb, FieldOptions& options) {
    verb.option("--season", options.season, "season file or folder of tables").required();
    verb.option("--at", options.at,
                "what now is, an instant or a day; the last that is known without it");
    verb.option("--units", options.units, "metric or us; the season's own without it")
        .one_of({"metric", "us"});
    verb.flag("--json", options.json, "for programs");
}

}  // namespace

void add_field(CommandLine& program) {
    auto options = std::make_shared<FieldOptions>();
    auto verb = program.verb("field", "What stands in a field, and what waiting with it is worth");
    verb.option("field", options->field, "the field, by its name").required();
    verb.option("--wait", options->wait, "days or weeks to wait: 7d, 2w").shows_default();
    add_common(verb, *options);
    verb.does([options] { return show_field(*options); });
}

void add_sky(CommandLine& program) {
    auto options = std::make_shared<FieldOptions>();
    auto verb = program.verb("sky", "Which hours of the coming days are fit for lifting");
    verb.option("--field", options->field, "a field, by its name; a usual soil without it");
    verb.option("--days", options->days, "days ahead").shows_default();
    verb.flag("--no-nights", options->no_nights, "the crew does not lift in the dark");
    add_common(verb, *options);
    verb.does([options] { return show_sky(*options); });
}

}  // namespace beetwright::cli
