#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <thread>

#include "base/pool.hpp"
#include "common.hpp"
#include "engine/pile_question.hpp"
#include "io/pile_json.hpp"
#include "io/pile_order_text.hpp"
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
    bool order = false;
};

/// Lets `read` make a question of what was said of these parameters. Problems name the options.
template <class Question>
Result<Question> question_from(const PileOptions& options, std::span<const io::ParameterInfo> known,
                               std::map<std::string, std::string> said,
                               Question (*read)(io::Parameters&)) {
    for (const io::ParameterInfo& parameter : known) {
        const auto found = options.said.find(std::string(parameter.name));
        if (found != options.said.end() && !found->second.empty()) {
            said.insert(*found);
        }
    }
    io::Parameters parameters({"pile", "", known}, said);
    auto question = read(parameters);
    auto problems = parameters.problems();
    for (Problem& problem : problems) {
        problem.where.field = "--" + problem.where.field;
    }
    if (const auto at = chosen_instant(options.at)) {
        question.about.at = *at;
    } else {
        problems.push_back(at.problems().front());
    }
    if (!problems.empty()) {
        return problems;
    }
    return question;
}

Result<engine::PileQuestion> question_of(const PileOptions& options) {
    std::map<std::string, std::string> said;
    said["deeds"] = options.compare;
    said["days"] = options.days ? "yes" : "no";
    if (options.until != "slicing") {
        said["until"] = options.until;
    }
    auto question =
        question_from(options, io::kPileParameters, std::move(said), io::pile_question_in);
    if (question && !options.json) {
        question->pictures = 0;
    }
    return question;
}

/// Reads the season, lets `ask` answer and prints what `json` or `text` make of it.
template <class Question, class Ask, class ToJson, class Text>
int answered(const PileOptions& options, const Result<Question>& question, Ask&& ask, ToJson&& json,
             Text&& text) {
    if (!question) {
        return tell(question.problems());
    }
    const auto season = load_season(options.season);
    if (!season) {
        return tell(season.problems());
    }
    WorkerPool pool(std::max(1U, std::thread::hardware_concurrency()));
    const auto answer = ask(*season, *question, pool, nullptr);
    if (!answer) {
        return tell(answer.problems());
    }
    fmt::print("{}", options.json
                         ? json(*answer, season->currency)
                         : text(*answer, season->currency, chosen_units(options.units, *season)));
    return 0;
}

int show(const PileOptions& options) {
    if (options.order) {
        return answered(
            options,
            question_from(options, io::kPileOrderParameters, {}, io::pile_order_question_in),
            engine::ask_pile_order, io::pile_order_json, io::pile_order_text);
    }
    const auto question = question_of(options);
    if (question && question->about.pile.empty()) {
        return answered(options, Result<engine::StudyQuestion>(question->about), engine::ask_piles,
                        io::piles_json,
                        [](const auto& lines, const std::string& /*currency*/, UnitSystem units) {
                            return io::piles_text(lines, units);
                        });
    }
    return answered(options, question, engine::ask_pile, io::pile_json, io::pile_text);
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
                "what may be done to it: bare, fleece, frost, straw, plastic, strips, fan, freeze")
        .shows_default();
    verb.flag("--days", options->days,
              "also look for the days on which to put the best cover on and off");
    verb.option("--part", options->said["part"],
                "with --json: the part whose section is shown, from 1");
    verb.flag("--order", options->order, "in which order the parts of all piles should be sliced");
    parameter("--rate", io::kPileRate);
    parameter("--taken", io::kPileTaken);
    parameter("--move", io::kPileMove);
    parameter("--members", io::kPileMembers);
    parameter("--detail", io::kPileDetail);
    add_season_options(verb, *options);
    verb.does([options] { return show(*options); });
}

}  // namespace beetwright::cli
