// Questions that take a minute, and so are answered by a server's jobs and the command line alone:
// the engine inside a browser does not hold them. docs/formats/api.md.
#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>

#include "io/questions.hpp"

namespace beetwright::io {

std::span<const QuestionInfo> job_questions();

/// As answer_question(). `threads`: that may work on it.
Result<QuestionAnswer> answer_job_question(const ledger::Season& season, std::string_view name,
                                           const std::map<std::string, std::string>& parameters,
                                           unsigned threads, Progress* progress);

}  // namespace beetwright::io
