// Long questions as browsers put and follow them. docs/formats/api.md.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "base/uuid.hpp"

namespace beetwright::io {

/// A question that may take long, and its parameters as answer_question() takes them.
struct JobWish {
    std::string question;
    std::map<std::string, std::string> parameters;
};

/// Reads `{"question": "ledger", "parameters": {"draws": 100000}}` strictly. Problems: all that is
/// not known, and a question that never takes long.
Result<JobWish> read_job_wish(std::string_view text);

enum class JobState : std::uint8_t { waiting, running, done, cancelled, failed };
std::string_view word_of(JobState state);
constexpr bool is_over(JobState state) {
    return state != JobState::waiting && state != JobState::running;
}

struct JobShown {
    Uuid id;
    std::string question;
    JobState state = JobState::waiting;
    double share = 0.0;  ///< of the work done, 0 to 1
};

std::string job_json(const JobShown& job);

/// Numbers what there is to tell of a job; a higher one tells more. Whole percents count.
std::uint64_t event_number(const JobShown& job);
/// What is told of it, in the form of server-sent events.
std::string event_text(const JobShown& job);

}  // namespace beetwright::io
