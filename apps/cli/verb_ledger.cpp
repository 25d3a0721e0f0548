#include <fmt/format.h>

#include <memory>
#include <thread>

#include "common.hpp"
#include "engine/ledger_question.hpp"
#include "engine/pile_histories.hpp"
#include "io/ledger_json.hpp"
#include "io/ledger_words.hpp"
#include "io/report_text.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct LedgerOptions {
    std::string season;
    std::string field;
    std::string slice_in;
    std::string units;
    std::string by;
    std::size_t draws = 1000;
    bool piles = false;
    bool json = false;
};

Result<engine::LedgerQuestion> question_of(const LedgerOptions& options) {
    engine::LedgerQuestion question;
    question.field = options.field;
    question.draws = options.draws;
    if (!options.slice_in.empty()) {
        auto days = io::read_days(options.slice_in);
        if (!days) {
            return days.problems();
        }
        question.slice_after_days = *days;
    }
    if (const auto by = io::group_of(options.by)) {
        question.groups.push_back(*by);
    }
    return question;
}

void print_for_people(const engine::LedgerAnswer& answer, const LedgerOptions& options,
                      const io::PeopleUnits& units) {
    if (!options.field.empty()) {
        fmt::print("{}", io::ledger_text(answer.fields.front(), units));
    } else if (!answer.groups.empty()) {
        for (const auto& account : answer.groups.front().accounts) {
            fmt::print("{}\n", io::ledger_text(account, units));
        }
    } else {
        fmt::print("{}\n{}", io::fields_text(answer.fields, units),
                   io::ledger_text(answer.season, units));
    }
    for (const auto& sentence : answer.assumptions) {
        fmt::print("Assumed: {}\n", sentence);
    }
}

int show_ledger(const LedgerOptions& options) {
    auto question = question_of(options);
    if (!question) {
        return tell(question.problems());
    }
    auto season = load_season(options.season);
    if (!season) {
        return tell(season.problems());
    }
    WorkerPool pool(std::max(1U, std::thread::hardware_concurrency()));
    engine::Histories histories;
    if (options.piles) {
        auto worked_out = engine::pile_histories(*season, {}, pool);
        if (!worked_out) {
            return tell(worked_out.problems());
        }
        histories = *std::move(worked_out);
        question->histories = &histories.by_field;
    }
    auto answer = engine::ask(*season, *question, pool);
    if (!answer) {
        return tell(answer.problems());
    }
    if (options.json) {
        fmt::print("{}", io::ledger_json(*answer, season->currency));
    } else {
        for (const auto& why : histories.left_out) {
            fmt::print("Left out: {}\n", why);
        }
        print_for_people(*answer, options,
                         io::PeopleUnits(chosen_units(options.units, *season), season->currency));
    }
    return 0;
}

}  // namespace

void add_ledger(CommandLine& program) {
    auto options = std::make_shared<LedgerOptions>();
    auto verb = program.verb("ledger", "Show where the sugar goes, from crop to money");
    verb.option("--season", options->season, "season file or folder of tables").required();
    verb.option("--field", options->field, "only this field");
    verb.option("--slice-in", options->slice_in,
                "sliced this long after lifting, e.g. 2d or 17w; else as the season says");
    verb.option("--by", options->by, "a ledger for each machine, operator, day, ...")
        .one_of({"machine", "operator", "day", "destination", "grower"});
    verb.option("--units", options->units, "metric or us; else the season's own")
        .one_of({"metric", "us"});
    verb.option("--draws", options->draws, "random draws, 100 to 1,000,000").shows_default();
    verb.flag("--piles", options->piles,
              "beets keep as the physics of their part of a pile says; takes a minute");
    verb.flag("--json", options->json, "for programs");
    verb.does([options] { return show_ledger(*options); });
}

}  // namespace beetwright::cli
