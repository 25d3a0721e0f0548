// The questions as programs and browsers put them: a name and parameters in, JSON or a page out.
//
// One table describes them. The server's routes, the browser's engine and the reference page are
// all made from it, so that a question put to the server and the same put to the engine inside the
// app are the same question. docs/formats/api.md.
#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>

#include "base/progress.hpp"
#include "base/result.hpp"
#include "engine/harvester_memory.hpp"
#include "engine/ledger_question.hpp"
#include "ledger/season.hpp"

namespace beetwright::io {

struct ParameterInfo {
    std::string_view name;
    std::string_view words;    ///< what it is, in a sentence
    std::string_view example;  ///< "2d"
};

struct QuestionInfo {
    std::string_view name;
    std::string_view words;
    std::span<const ParameterInfo> parameters;
};

std::span<const QuestionInfo> questions();

enum class AnswerForm { json, page };

struct QuestionAnswer {
    AnswerForm form = AnswerForm::json;
    std::string body;
};

/// Draws that are answered while somebody waits; more are for a job.
inline constexpr std::size_t kMostDrawsAtOnce = 10'000;

/// How much a question may take, and who follows it.
struct Patience {
    std::size_t most_draws = kMostDrawsAtOnce;
    std::size_t most_bytes = 0;    ///< 0: whatever it needs
    Progress* progress = nullptr;  ///< first asked when the question is in order
};

/// Problems: a name that is not in questions(), parameters that it does not have, values that are
/// no good, and whatever the engine finds wrong.
/// `basis`: of this season, where somebody has worked it out already, and `memory`: of earlier
/// questions; the answer is the same without them.
Result<QuestionAnswer> answer_question(const ledger::Season& season, std::string_view name,
                                       const std::map<std::string, std::string>& parameters,
                                       const Patience& patience = {},
                                       const engine::LedgerBasis* basis = nullptr,
                                       engine::HarvesterMemory* memory = nullptr);

/// Whether a question has draws, and so may take long.
bool may_take_long(const QuestionInfo& question);

}  // namespace beetwright::io
