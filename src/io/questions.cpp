#include "io/questions.hpp"

#include <algorithm>
#include <array>
#include <set>

#include "base/nearest_name.hpp"
#include "base/pool.hpp"
#include "engine/check_question.hpp"
#include "engine/crowns_question.hpp"
#include "engine/enough_question.hpp"
#include "engine/harvester_question.hpp"
#include "engine/ledger_question.hpp"
#include "engine/machine_question.hpp"
#include "engine/report_question.hpp"
#include "engine/settle_question.hpp"
#include "io/check_text.hpp"
#include "io/constants_text.hpp"
#include "io/harvester_text.hpp"
#include "io/ledger_json.hpp"
#include "io/machine_json.hpp"
#include "io/question_parameters.hpp"
#include "io/report_html.hpp"
#include "io/seen_parameters.hpp"
#include "io/settle_text.hpp"
#include "io/sky_text.hpp"
#include "io/standing_text.hpp"
#include "io/weather_json.hpp"
#include "ledger/model.hpp"

namespace beetwright::io {
namespace {

constexpr ParameterInfo kField{"field", "one field, by its name; all of them without it",
                               "Long Acre"};
constexpr ParameterInfo kThisField{"field", "the field, by its name", "Long Acre"};
constexpr ParameterInfo kSliceIn{
    "slice_in", "days or weeks from lifting to slicing, whatever the season says", "120d"};

constexpr ParameterInfo kDraws{
    "draws", "random draws, 100 to 10,000, of a job to 1,000,000; 1000 without it", "5000"};

constexpr std::array kLedgerParameters{
    kField, kSliceIn,
    ParameterInfo{"by", "also put together by machine, operator, day, destination or grower",
                  "machine"},
    kDraws};
constexpr std::array kCheckParameters{kThisField};
constexpr std::array kSettlementParameters{
    kField, ParameterInfo{"grower", "one grower's fields alone", "Tansy Hill Farm"}};
constexpr std::array kEnoughParameters{
    ParameterInfo{"spots", "hits/beets of each spot, parted by commas", "1/10,0/10,2/7"}};
constexpr std::array kCrownsParameters{ParameterInfo{
    "heights", "heights of crowns over the ground in cm, parted by commas", "4,5.5,6,-1,3"}};
constexpr std::span<const ParameterInfo> kNoParameters;
constexpr std::array kConstantsParameters{
    ParameterInfo{"start", "only those whose id starts so; all of them without it", "pile."}};
constexpr std::array kReportParameters{
    kSliceIn, ParameterInfo{"units", "metric or us; the season's own without it", "us"}, kDraws};

constexpr ParameterInfo kAt{"at",
                            "what now is: an instant or a day; the last that is known without it",
                            "2031-10-04T07:00:00Z"};
constexpr std::array kSkyParameters{
    ParameterInfo{"field", "a field, by its name; a usual soil, for a pile, without it",
                  "Long Acre"},
    kAt, ParameterInfo{"days", "how many days ahead, 1 to 60; 10 without it", "10d"},
    ParameterInfo{"nights", "no: the crew does not lift in the dark", "no"}};
constexpr std::array kStandingParameters{
    kThisField, kAt,
    ParameterInfo{"wait", "days or weeks to wait, up to 60 days; 7 without it", "2w"}};

constexpr std::array kHarvesterParameters{kThisField, kSliceIn, kAt};
constexpr auto kSetupParameters = [] {
    std::array<ParameterInfo, kHarvesterParameters.size() + kSeenParameters.size()> all;
    const auto rest = std::ranges::copy(kHarvesterParameters, all.begin()).out;
    std::ranges::copy(kSeenParameters, rest);
    return all;
}();
constexpr std::array kResponseParameters{
    kThisField, ParameterInfo{"control", "which, by its id", "share.depth"}, kSliceIn, kAt};

using Answered = Result<QuestionAnswer>;

Answered json(std::string body) {
    return QuestionAnswer{AnswerForm::json, std::move(body)};
}

/// What a question is put to, and how long it may take.
struct Asked {
    const ledger::Season& season;
    const engine::LedgerBasis* basis;
    const Patience& patience;
    engine::HarvesterMemory* memory;
};

Answered ledger(const Asked& asked, Parameters& parameters) {
    const auto& patience = asked.patience;
    engine::LedgerQuestion question;
    question.draws = parameters.draws("draws", patience);
    question.most_bytes = patience.most_bytes;
    question.field = parameters.text("field");
    question.slice_after_days = parameters.days("slice_in");
    if (const auto by = parameters.group("by")) {
        question.groups.push_back(*by);
    }
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    WorkerPool pool(1);
    const auto answer = asked.basis != nullptr
                            ? engine::ask(*asked.basis, question, pool, patience.progress)
                            : engine::ask(asked.season, question, pool, patience.progress);
    return answer ? json(ledger_json(*answer, asked.season.currency)) : Answered(answer.problems());
}

Answered check(const Asked& asked, Parameters& parameters) {
    const auto& season = asked.season;
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    const auto answer = engine::ask_check(season, parameters.text("field"));
    return answer ? json(check_json(*answer)) : Answered(answer.problems());
}

Answered enough(const Asked& asked, Parameters& parameters) {
    const auto& season = asked.season;
    const auto spots = parameters.spots("spots");
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    const auto answer = engine::ask_enough(season, spots);
    return answer ? json(enough_json(*answer)) : Answered(answer.problems());
}

Answered crowns(const Asked& asked, Parameters& parameters) {
    const auto heights = parameters.heights("heights");
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    const auto answer = engine::ask_crowns(asked.season, heights);
    return answer ? json(crowns_json(*answer)) : Answered(answer.problems());
}

Answered next(const Asked& asked, Parameters& parameters) {
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    constexpr std::size_t most = 5;
    WorkerPool pool(1);
    const auto answer = engine::ask(asked.season, {}, pool);
    return answer ? json(next_counts_json(engine::next_counts(answer->fields, most),
                                          asked.season.currency))
                  : Answered(answer.problems());
}

Answered settlement(const Asked& asked, Parameters& parameters) {
    const auto& season = asked.season;
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    const auto answer = engine::ask_settle(
        season, {.field = parameters.text("field"), .grower = parameters.text("grower")});
    return answer ? json(settle_json(*answer, season.currency)) : Answered(answer.problems());
}

Answered sky(const Asked& asked, Parameters& parameters) {
    engine::SkyQuestion question;
    question.field = parameters.text("field");
    question.at = parameters.instant("at");
    question.days = parameters.days("days").value_or(question.days);
    question.works_at_night = parameters.yes("nights", question.works_at_night);
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    WorkerPool pool(1);
    const auto answer = engine::ask_sky(asked.season, question, pool, asked.patience.progress);
    return answer ? json(sky_json(*answer)) : Answered(answer.problems());
}

Answered standing(const Asked& asked, Parameters& parameters) {
    engine::StandingQuestion question;
    question.field = parameters.text("field");
    question.at = parameters.instant("at");
    question.wait_days = parameters.days("wait").value_or(question.wait_days);
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    WorkerPool pool(1);
    const auto answer = engine::ask_standing(asked.season, question, pool);
    return answer ? json(standing_json(*answer, asked.season.currency))
                  : Answered(answer.problems());
}

Result<engine::HarvesterQuestion> harvester_question(Parameters& parameters) {
    const engine::HarvesterQuestion question{.field = parameters.text("field"),
                                             .slice_after_days = parameters.days("slice_in"),
                                             .at = parameters.instant("at")};
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    return question;
}

Answered setup(const Asked& asked, Parameters& parameters) {
    const auto seen = seen_in(parameters);
    auto question = harvester_question(parameters);
    if (!question) {
        return question.problems();
    }
    question->seen = seen;
    const auto answer = engine::ask_setup(asked.season, *question, asked.memory);
    return answer ? json(setup_json(*answer, asked.season.currency)) : Answered(answer.problems());
}

Answered machine(const Asked& asked, Parameters& parameters) {
    const auto question = harvester_question(parameters);
    if (!question) {
        return question.problems();
    }
    const auto answer = engine::ask_machine(asked.season, *question, asked.memory);
    return answer ? json(machine_json(*answer)) : Answered(answer.problems());
}

Answered response(const Asked& asked, Parameters& parameters) {
    const auto question = harvester_question(parameters);
    if (!question) {
        return question.problems();
    }
    const auto answer = engine::ask_response(
        asked.season, {.about = *question, .control = parameters.text("control")}, asked.memory);
    return answer ? json(response_json(*answer, asked.season.currency))
                  : Answered(answer.problems());
}

Answered advice(const Asked& asked, Parameters& parameters) {
    const auto question = harvester_question(parameters);
    if (!question) {
        return question.problems();
    }
    const auto answer = engine::ask_advice(asked.season, *question, asked.memory);
    return answer ? json(advice_json(*answer, asked.season.currency)) : Answered(answer.problems());
}

Answered weather_days(const Asked& asked, Parameters& parameters) {
    return parameters.problems().empty() ? json(weather_json(asked.season.weather.get()))
                                         : Answered(parameters.problems());
}

Answered constants(const Asked& asked, Parameters& parameters) {
    const auto& season = asked.season;
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    const auto catalogue = ledger::season_catalogue(season);
    return catalogue ? json(constants_json(*catalogue, parameters.text("start")))
                     : Answered(catalogue.problems());
}

Answered report(const Asked& asked, Parameters& parameters) {
    const auto& season = asked.season;
    const auto& patience = asked.patience;
    const engine::ReportQuestion question{.slice_after_days = parameters.days("slice_in"),
                                          .draws = parameters.draws("draws", patience),
                                          .most_bytes = patience.most_bytes};
    const auto units = parameters.units("units", season.units);
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    WorkerPool pool(1);
    const auto answer = engine::ask_report(season, question, pool, patience.progress);
    if (!answer) {
        return answer.problems();
    }
    return QuestionAnswer{AnswerForm::page,
                          report_html(*answer, PeopleUnits(units, season.currency))};
}

/// A question, and who answers it.
struct Row {
    QuestionInfo question;
    Answered (*answer)(const Asked&, Parameters&);
};

constexpr std::array kRows{
    Row{{"ledger", "Where does the sugar go, and what does it cost?", kLedgerParameters}, ledger},
    Row{{"check", "What do the counts of a field prove?", kCheckParameters}, check},
    Row{{"enough", "Has enough been counted to tell 5 % from 10 %?", kEnoughParameters}, enough},
    Row{{"crowns", "How high do crowns stand, and how evenly?", kCrownsParameters}, crowns},
    Row{{"next", "Which counts would settle most money?", kNoParameters}, next},
    Row{{"settlement", "What is paid for the loads that were weighed?", kSettlementParameters},
        settlement},
    Row{{"sky", "Which hours of the coming days are fit for lifting, and how sure is that?",
         kSkyParameters},
        sky},
    Row{{"standing", "What stands in a field, and what is waiting with it worth?",
         kStandingParameters},
        standing},
    Row{{"setup", "How should a field's machine be set on entry?", kSetupParameters}, setup},
    Row{{"advice", "What should be changed on a field's machine next, if anything?",
         kHarvesterParameters},
        advice},
    Row{{"machine", "What leaves the flow of beets at each stage of a field's machine?",
         kHarvesterParameters},
        machine},
    Row{{"response", "What would follow one of the machine's controls?", kResponseParameters},
        response},
    Row{{"weather_days", "What weather does the season know, day by day?", kNoParameters},
        weather_days},
    Row{{"constants", "Which constants does the season reckon with, and whence?",
         kConstantsParameters},
        constants},
    Row{{"report", "The whole season as a page that runs and fetches nothing.", kReportParameters},
        report}};

constexpr auto kQuestions = [] {
    std::array<QuestionInfo, kRows.size()> questions;
    std::ranges::transform(kRows, questions.begin(), &Row::question);
    return questions;
}();

}  // namespace

std::span<const QuestionInfo> questions() {
    return kQuestions;
}

bool may_take_long(const QuestionInfo& question) {
    return std::ranges::find(question.parameters, kDraws.name, &ParameterInfo::name) !=
           question.parameters.end();
}

Result<QuestionAnswer> answer_question(const ledger::Season& season, std::string_view name,
                                       const std::map<std::string, std::string>& parameters,
                                       const Patience& patience, const engine::LedgerBasis* basis,
                                       engine::HarvesterMemory* memory) {
    const auto found =
        std::ranges::find(kRows, name, [](const Row& row) { return row.question.name; });
    if (found == kRows.end()) {
        std::set<std::string> known;
        for (const auto& question : kQuestions) {
            known.emplace(question.name);
        }
        return Problem{
            ProblemKind::missing,
            {},
            "nobody answers a question called \"" + std::string(name) + "\"",
            did_you_mean(std::string(name), known) + "docs/formats/api.md lists the questions"};
    }
    Parameters read(found->question, parameters);
    return found->answer({season, basis, patience, memory}, read);
}

}  // namespace beetwright::io
