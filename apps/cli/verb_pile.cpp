#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <thread>

#include "base/pool.hpp"
#include "common.hpp"
#include "engine/pile_question.hpp"
#include "io/dates.hpp"
#include "io/pile_json.hpp"
#include "io/pile_text.hpp"
#include "season_options.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct PileOptions : SeasonOptions {
    std::string pile;
    std::string until = "slicing";
    std::string compare = "bare,fleece,fan";
    std::string detail = "usual";
    std::size_t members = 16;
    std::size_t part = 0;
    bool days = false;
};

std::vector<std::string> names_in(const std::string& text) {
    std::vector<std::string> names;
    std::size_t begin = 0;
    while (begin < text.size()) {
        const auto end = std::min(text.find(',', begin), text.size());
        if (end > begin) {
            names.push_back(text.substr(begin, end - begin));
        }
        begin = end + 1;
    }
    return names;
}

Result<engine::PileQuestion> question_of(const PileOptions& options) {
    Problems problems;
    engine::PileQuestion question;
    question.about.pile = options.pile;
    question.about.members = options.members;
    question.about.cell = Length(options.detail == "coarse" ? 1.0
                                 : options.detail == "fine" ? 0.25
                                                            : 0.5);
    if (const auto read = chosen_instant(options.at)) {
        question.about.at = *read;
    } else {
        problems.push_back(read.problems().front());
    }
    if (options.until != "slicing") {
        if (const auto day = io::read_day(options.until, {})) {
            question.about.until = *day;
        } else {
            problems.push_back(said_of("--until", day.problems()));
        }
    }
    question.deeds = names_in(options.compare);
    question.looks_for_days = options.days;
    if (options.part > 0) {
        question.pictured = options.part - 1;
    }
    question.pictures = options.json ? question.pictures : 0;
    if (!problems.empty()) {
        return problems;
    }
    return question;
}

int show(const PileOptions& options) {
    const auto question = question_of(options);
    if (!question) {
        return tell(question.problems());
    }
    const auto season = load_season(options.season);
    if (!season) {
        return tell(season.problems());
    }
    WorkerPool pool(std::max(1U, std::thread::hardware_concurrency()));
    const auto units = chosen_units(options.units, *season);
    if (options.pile.empty()) {
        const auto lines = engine::ask_piles(*season, question->about, pool);
        if (!lines) {
            return tell(lines.problems());
        }
        fmt::print("{}", options.json ? io::piles_json(*lines, season->currency)
                                      : io::piles_text(*lines, units));
        return 0;
    }
    const auto answer = engine::ask_pile(*season, *question, pool);
    if (!answer) {
        return tell(answer.problems());
    }
    fmt::print("{}", options.json ? io::pile_json(*answer, season->currency)
                                  : io::pile_text(*answer, season->currency, units));
    return 0;
}

}  // namespace

void add_pile(CommandLine& program) {
    auto options = std::make_shared<PileOptions>();
    auto verb = program.verb(
        "pile", "Will a pile keep, where does it go wrong, and what should be done to it");
    verb.option("pile", options->pile, "the pile, by its name; all piles, a line each, without it");
    verb.option("--until", options->until, "a day, or slicing: until its last beets are sliced")
        .shows_default();
    verb.option("--compare", options->compare,
                "what may be done to it: bare, fleece, straw, plastic, strips, fan, freeze")
        .shows_default();
    verb.flag("--days", options->days,
              "also look for the days on which to put the best cover on and off");
    verb.option("--part", options->part, "with --json: the part whose section is shown, from 1")
        .from_to(1, 8);
    verb.option("--members", options->members,
                "ways in which the weather and all that is not known may go")
        .from_to(2, 200)
        .shows_default();
    verb.option("--detail", options->detail, "cells of a section of 1, 0.5 or 0.25 m")
        .one_of({"coarse", "usual", "fine"})
        .shows_default();
    add_season_options(verb, *options);
    verb.does([options] { return show(*options); });
}

}  // namespace beetwright::cli
