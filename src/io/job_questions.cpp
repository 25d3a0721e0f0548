#include "io/job_questions.hpp"

#include <algorithm>
#include <array>

#include "base/contract.hpp"
#include "base/pool.hpp"
#include "engine/pile_question.hpp"
#include "io/pile_json.hpp"
#include "io/pile_order_text.hpp"
#include "io/pile_parameters.hpp"

namespace beetwright::io {
namespace {

struct Asked {
    const ledger::Season& season;
    unsigned threads;
    Progress* progress;
};

Result<QuestionAnswer> pile(const Asked& asked, Parameters& parameters) {
    const auto question = pile_question_in(parameters);
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
    const auto about = study_question_in(parameters);
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

Result<QuestionAnswer> pile_order(const Asked& asked, Parameters& parameters) {
    const auto question = pile_order_question_in(parameters);
    if (!parameters.problems().empty()) {
        return parameters.problems();
    }
    WorkerPool pool(asked.threads);
    const auto answer = engine::ask_pile_order(asked.season, question, pool, asked.progress);
    if (!answer) {
        return answer.problems();
    }
    return QuestionAnswer{AnswerForm::json, pile_order_json(*answer, asked.season.currency)};
}

struct Row {
    QuestionInfo question;
    Result<QuestionAnswer> (*answer)(const Asked&, Parameters&);
};

constexpr std::array kRows{
    Row{{"pile", "Will a pile keep, where does it go wrong, and what should be done to it?",
         kPileParameters},
        pile},
    Row{{"piles", "Which of the piles is due when?", kPilesParameters}, piles},
    Row{{"pile_order", "In which order should the parts of all piles be sliced?",
         kPileOrderParameters},
        pile_order}};

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
