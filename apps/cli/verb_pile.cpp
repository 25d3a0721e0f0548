#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <thread>

#include "base/pool.hpp"
#include "common.hpp"
#include "engine/pile_question.hpp"
#include "io/pile_json.hpp"
#include "io/pile_parameters.hpp"
#include "io/pile_text.hpp"
#include "season_options.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct PileOptions : SeasonOptions {
    std::map<std::string, std::string> said;  ///< by the names of io::kPileParameters
    std::string until = "slicing";
    std::string compare = "bare,fleece,fan";
    bool days = false;
};

Result<engine::PileQuestion> question_of(const PileOptions& options) {
    std::map<std::string, std::string> said;
    for (const auto& [name, value] : options.said) {
        if (!value.empty()) {
            said.emplace(name, value);
        }
    }
    said["deeds"] = options.compare;
    said["days"] = options.days ? "yes" : "no";
    if (options.until != "slicing") {
        said["until"] = options.until;
    }
    io::Parameters parameters({"pile", "", io::kPileParameters}, said);
    auto question = io::pile_question_in(parameters);
    auto problems = parameters.problems();
    for (Problem& problem : problems) {
        problem.where.field = "--" + problem.where.field;
    }
    if (const auto at = chosen_instant(options.at)) {
        question.about.at = *at;
    } else {
        problems.push_back(at.problems().front());
    }
    if (!options.json) {
        question.pictures = 0;
    }
    if (!problems.empty()) {
        return problems;
    }
    return question;
}

int show_all(const PileOptions& options, const ledger::Season& season,
             const engine::StudyQuestion& about, WorkerPool& pool) {
    const auto lines = engine::ask_piles(season, about, pool);
    if (!lines) {
        return tell(lines.problems());
    }
    fmt::print("{}", options.json ? io::piles_json(*lines, season.currency)
                                  : io::piles_text(*lines, chosen_units(options.units, season)));
    return 0;
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
    if (question->about.pile.empty()) {
        return show_all(options, *season, question->about, pool);
    }
    const auto answer = engine::ask_pile(*season, *question, pool);
    if (!answer) {
        return tell(answer.problems());
    }
    fmt::print("{}", options.json ? io::pile_json(*answer, season->currency)
                                  : io::pile_text(*answer, season->currency,
                                                  chosen_units(options.units, *season)));
    return 0;
}

}  // namespace

void add_pile(CommandLine& program) {
    auto options = std::make_shared<PileOptions>();
    auto verb = program.verb(
        "pile", "Will a pile keep, where does it go wrong, and what should be done to it");
    const auto parameter = [&](const std::string& option, const io::ParameterInfo& info) {
        verb.option(option, options->said[std::string(info.name)], std::string(info.words));
    };
    verb.option("pile", options->said["pile"],
                "the pile, by its name; all piles, a line each, without it");
    verb.option("--until", options->until, "a day, or slicing: until its last beets are sliced")
        .shows_default();
    verb.option("--compare", options->compare,
                "what may be done to it: bare, fleece, straw, plastic, strips, fan, freeze")
        .shows_default();
    verb.flag("--days", options->days,
              "also look for the days on which to put the best cover on and off");
    verb.option("--part", options->said["part"],
                "with --json: the part whose section is shown, from 1");
    parameter("--members", io::kPileMembers);
    parameter("--detail", io::kPileDetail);
    add_season_options(verb, *options);
    verb.does([options] { return show(*options); });
}

}  // namespace beetwright::cli
