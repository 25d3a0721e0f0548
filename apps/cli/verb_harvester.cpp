#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>

#include "common.hpp"
#include "engine/harvester_question.hpp"
#include "io/dates.hpp"
#include "io/harvester_text.hpp"
#include "io/ledger_words.hpp"
#include "io/seen_parameters.hpp"
#include "season_options.hpp"
#include "verbs.hpp"

namespace beetwright::cli {
namespace {

struct HarvesterOptions : SeasonOptions {
    std::string field;
    std::string slice_in;
    std::map<std::string, std::string> seen;  ///< by the names of io::kSeenParameters
};

/// "soil_in_hand" is --soil-in-hand.
std::string option_of(std::string_view parameter) {
    std::string option = "--" + std::string(parameter);
    std::ranges::replace(option, '_', '-');
    return option;
}

/// What is seen now. What is wrong with it is added to the problems.
std::optional<check::StandingLook> seen_of(const HarvesterOptions& options, Problems& problems) {
    std::map<std::string, std::string> said;
    for (const auto& [name, value] : options.seen) {
        if (!value.empty()) {
            said.emplace(name, value);
        }
    }
    io::Parameters parameters({"setup", "", io::kSeenParameters}, said);
    auto seen = io::seen_in(parameters);
    for (Problem problem : parameters.problems()) {
        problem.where.field = option_of(problem.where.field);
        problems.push_back(std::move(problem));
    }
    return seen;
}

/// Reads the season and what is asked, lets `ask` answer, and prints what `text` or `json` make of
/// it.
template <class Ask, class Text, class ToJson>
int show(const HarvesterOptions& options, Ask&& ask, Text&& text, ToJson&& json) {
    const auto season = load_season(options.season);
    if (!season) {
        return tell(season.problems());
    }
    engine::HarvesterQuestion question{.field = options.field};
    Problems problems;
    if (!options.slice_in.empty()) {
        if (const auto read = io::read_days(options.slice_in)) {
            question.slice_after_days = *read;
        } else {
            problems.push_back(said_of("--slice-in", read.problems()));
        }
    }
    if (const auto read = chosen_instant(options.at)) {
        question.at = *read;
    } else {
        problems.push_back(read.problems().front());
    }
    question.seen = seen_of(options, problems);
    if (!problems.empty()) {
        return tell(problems);
    }
    const auto answer = ask(*season, question, nullptr);
    if (!answer) {
        return tell(answer.problems());
    }
    const UnitSystem units = chosen_units(options.units, *season);
    fmt::print("{}", options.json ? json(*answer, season->currency)
                                  : text(*answer, season->currency, units));
    return 0;
}

void add_options(Verb& verb, HarvesterOptions& options) {
    verb.option("field", options.field, "the field, by its name").required();
    verb.option("--slice-in", options.slice_in,
                "days or weeks from lifting to slicing, whatever the season says: 2d, 8w");
    add_season_options(verb, options);
}

}  // namespace

void add_setup(CommandLine& program) {
    auto options = std::make_shared<HarvesterOptions>();
    auto verb = program.verb("setup", "How a field's machine should be set on entry, and why");
    add_options(verb, *options);
    for (const io::ParameterInfo& seen : io::kSeenParameters) {
        verb.option(option_of(seen.name), options->seen[std::string(seen.name)],
                    std::string(seen.words));
    }
    verb.does(
        [options] { return show(*options, engine::ask_setup, io::setup_text, io::setup_json); });
}

void add_advise(CommandLine& program) {
    auto options = std::make_shared<HarvesterOptions>();
    auto verb = program.verb(
        "advise", "What to change on a field's machine next, what it gains and how sure that is");
    add_options(verb, *options);
    verb.does(
        [options] { return show(*options, engine::ask_advice, io::advice_text, io::advice_json); });
}

}  // namespace beetwright::cli
