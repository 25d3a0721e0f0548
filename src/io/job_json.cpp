#include "io/job_json.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <vector>

#include "base/nearest_name.hpp"
#include "io/job_questions.hpp"
#include "io/json.hpp"
#include "io/json_object.hpp"
#include "io/questions.hpp"
#include "io/zones_parameters.hpp"

namespace beetwright::io {
namespace {

/// Those that may take long, and those that always do.
std::vector<const QuestionInfo*> long_questions() {
    std::vector<const QuestionInfo*> all;
    for (const auto& question : questions()) {
        if (may_take_long(question)) {
            all.push_back(&question);
        }
    }
    for (const auto& question : job_questions()) {
        all.push_back(&question);
    }
    all.push_back(&kZonesQuestion);
    return all;
}

const QuestionInfo* find_long_question(std::string_view name) {
    const auto all = long_questions();
    const auto found = std::ranges::find(all, name, &QuestionInfo::name);
    return found == all.end() ? nullptr : *found;
}

std::set<std::string> long_names() {
    std::set<std::string> names;
    for (const auto* question : long_questions()) {
        names.emplace(question->name);
    }
    return names;
}

/// Draws are a number; all other values are text.
void read_parameter(JsonObject& object, const std::string& name, JobWish& wish) {
    if (!object.has(name)) {
        return;
    }
    if (name != "draws") {
        object.text(name, wish.parameters[name]);
        return;
    }
    double count = 0.0;
    object.number(name, count);
    constexpr double most = 1e9;  // what the engine allows, it says itself
    if (count < 0.0 || count > most || count != std::floor(count)) {
        object.fail(name, "this is not a number of draws", "write a whole number, 100000");
        return;
    }
    wish.parameters[name] = std::to_string(static_cast<long long>(count));
}

/// A job's share in whole percents: what changes less is not told.
int percent(const JobShown& job) {
    return static_cast<int>(std::clamp(job.share, 0.0, 1.0) * 100.0);
}

Json shown(const JobShown& job) {
    return {{"id", job.id.text()},
            {"question", job.question},
            {"state", word_of(job.state)},
            {"share", percent(job) / 100.0}};
}

}  // namespace

Result<JobWish> read_job_wish(std::string_view text) {
    const auto parsed = parse_json(text, "");
    if (!parsed) {
        return parsed.problems();
    }
    JsonContext context{
        .file = "", .currency = "", .problems = {}, .format_page = "docs/formats/api.md"};
    JobWish wish;
    {
        JsonObject object(*parsed, "", context);
        object.expect({"question"});
        object.text("question", wish.question);
        const auto* question = find_long_question(wish.question);
        if (question == nullptr) {
            const auto known = long_names();
            std::string words;
            for (const auto& name : known) {
                words += (words.empty() ? "" : ", ") + name;
            }
            object.fail("question", "'" + wish.question + "' is not a question that takes long",
                        did_you_mean(wish.question, known) + "Write one of " + words +
                            "; all others are answered at once");
            object.has("parameters");  // whatever they are
        } else {
            object.object("parameters", [&](JsonObject& parameters) {
                for (const auto& parameter : question->parameters) {
                    read_parameter(parameters, std::string(parameter.name), wish);
                }
            });
        }
    }
    if (!context.problems.empty()) {
        return context.problems;
    }
    return wish;
}

std::string_view word_of(JobState state) {
    switch (state) {
        case JobState::waiting: return "waiting";
        case JobState::running: return "running";
        case JobState::done: return "done";
        case JobState::cancelled: return "cancelled";
        case JobState::failed: return "failed";
    }
    return "";
}

std::string job_json(const JobShown& job) {
    return shown(job).lines() + "\n";
}

std::uint64_t event_number(const JobShown& job) {
    constexpr std::uint64_t last = 102;  // after waiting, and 0 to 100 % of running
    if (job.state == JobState::waiting) {
        return 1;
    }
    return is_over(job.state) ? 2 + last : 2 + static_cast<std::uint64_t>(percent(job));
}

std::string event_text(const JobShown& job) {
    return "id: " + std::to_string(event_number(job)) +
           "\nevent: " + (is_over(job.state) ? std::string(word_of(job.state)) : "progress") +
           "\ndata: " + shown(job).line() + "\n\n";
}

}  // namespace beetwright::io
