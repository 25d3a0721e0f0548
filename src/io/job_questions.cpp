#include "io/job_questions.hpp"

#include <algorithm>
#include <array>

#include "base/contract.hpp"
#include "base/pool.hpp"
#include "engine/pile_question.hpp"
#include "io/pile_json.hpp"
#include "io/question_parameters.hpp"

namespace beetwright::io {
namespace {

constexpr ParameterInfo kAt{"at",
                            "what now is: an instant or a day; the last that is known without it",
                            "2031-12-04T07:00:00Z"};
constexpr ParameterInfo kUntil{
    "until", "the day to look ahead to; that on which its last beets are sliced without it",
    "2032-02-01"};
constexpr ParameterInfo kMembers{
    "members",
    "ways in which the weather and all that is not known may go, 2 to 200; 16 without it", "50"};
constexpr ParameterInfo kDetail{
    "detail", "coarse, usual or fine: cells of a section of 1, 0.5 or 0.25 m", "fine"};

constexpr std::array kPileParameters{
    ParameterInfo{"pile", "the pile, by its name", "Copse Road pile"},
    kAt,
    kUntil,
    kMembers,
    kDetail,
    ParameterInfo{
        "deeds",
        "what it would come to if these were done, parted by commas: bare, fleece, straw, "
        "plastic, strips, fan, freeze",
        "bare,fleece,fan"},
    ParameterInfo{"days", "yes: also looks for the days on which to put a cover on and off", "yes"},
    ParameterInfo{"part", "the part whose section is shown, from 1; the one due first without it",
                  "2"},
    ParameterInfo{"pictures", "of that section through time, 0 to 60; 24 without it", "40"}};
constexpr std::array kPilesParameters{kAt, kUntil, kMembers, kDetail};

struct Asked {
    const ledger::Season& season;
    unsigned threads;
    Progress* progress;
};

Length cell_of(Parameters& parameters) {
    static constexpr std::array<std::string_view, 3> kDetails{"coarse", "usual", "fine"};
    constexpr std::array kCells{Length(1.0), Length(0.5), Length(0.25)};
    return kCells[parameters.one_of("detail", kDetails, 1)];
}

engine::StudyQuestion study_question(Parameters& parameters) {
    engine::StudyQuestion about;
    about.at = parameters.instant("at");
    about.until = parameters.day("until");
    about.members = parameters.whole("members", about.members);
    about.cell = cell_of(parameters);
    return about;
}

/// "bare,fleece"
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

Result<QuestionAnswer> pile(const Asked& asked, Parameters& parameters) {
    engine::PileQuestion question{.about = study_question(parameters)};
    question.about.pile = parameters.text("pile");
    question.deeds = names_in(parameters.text("deeds"));
    question.looks_for_days = parameters.yes("days", false);
    if (const std::size_t part = parameters.whole("part", 0); part > 0) {
        question.pictured = part - 1;
    }
    question.pictures = parameters.whole("pictures", question.pictures);
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    WorkerPool pool(asked.threads);
    const auto answer = engine::ask_pile(asked.season, question, pool, asked.progress);
    if (!answer) {
        return answer.problems();
    }
    return QuestionAnswer{AnswerForm::json, pile_json(*answer, asked.season.currency)};
}

Result<QuestionAnswer> piles(const Asked& asked, Parameters& parameters) {
    const auto about = study_question(parameters);
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    WorkerPool pool(asked.threads);
    const auto lines = engine::ask_piles(asked.season, about, pool, asked.progress);
    if (!lines) {
        return lines.problems();
    }
    return QuestionAnswer{AnswerForm::json, piles_json(*lines, asked.season.currency)};
}

struct Row {
    QuestionInfo question;
    Result<QuestionAnswer> (*answer)(const Asked&, Parameters&);
};

constexpr std::array kRows{
    Row{{"pile", "Will a pile keep, where does it go wrong, and what should be done to it?",
         kPileParameters},
        pile},
    Row{{"piles", "Which of the piles is due when?", kPilesParameters}, piles}};

constexpr auto kQuestions = [] {
    std::array<QuestionInfo, kRows.size()> questions;
    std::ranges::transform(kRows, questions.begin(), &Row::question);
    return questions;
}();

}  // namespace

std::span<const QuestionInfo> job_questions() {
    return kQuestions;
}

Result<QuestionAnswer> answer_job_question(const ledger::Season& season, std::string_view name,
                                           const std::map<std::string, std::string>& parameters,
                                           unsigned threads, Progress* progress) {
    const auto found =
        std::ranges::find(kRows, name, [](const Row& row) { return row.question.name; });
    require(found != kRows.end(), "it is one of job_questions()");
    Parameters read(found->question, parameters);
    return found->answer({season, threads, progress}, read);
}

}  // namespace beetwright::io
