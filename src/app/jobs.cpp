#include "app/jobs.hpp"

#include <algorithm>
#include <atomic>
#include <exception>

#include "app/secrets.hpp"

namespace beetwright::app {

using io::JobShown;
using io::JobState;

/// State and share may be read by anybody; they are changed under the mutex of Jobs, but for the
/// share of a job that runs. The answer is there before the state says so.
struct Jobs::Job final : Progress {
    Job(Uuid made, std::string asked, Uuid person, Work what)
        : id(made), question(std::move(asked)), by(person), work(std::move(what)) {}

    bool go_on(double now) override {
        share.store(std::max(now, share.load()));
        return !is_cancelled;
    }
    [[nodiscard]] JobShown shown() const {
        return {.id = id, .question = question, .state = state, .share = share};
    }

    const Uuid id;
    const std::string question;
    const Uuid by;
    Work work;  ///< let go of at the end, with the season that it holds
    std::atomic<JobState> state = JobState::waiting;
    std::atomic<double> share = 0.0;
    std::atomic<bool> is_cancelled = false;
    Instant ended{};
    io::QuestionAnswer answer;
    Problems problems;
};

Jobs::Jobs(Clock clock, const JobOptions& options) : clock_(std::move(clock)), options_(options) {
    for (unsigned k = 0; k < std::max(1U, options_.at_once); ++k) {
        workers_.emplace_back([this](const std::stop_token& stop) { work_until(stop); });
    }
}

Result<JobShown> Jobs::start(std::string question, Work work, const Person& by) {
    const std::lock_guard lock(mutex_);
    forget_old_now();
    const auto unfinished = std::ranges::count_if(jobs_, [&](const auto& one) {
        return one.second->by == by.id && !io::is_over(one.second->state);
    });
    if (static_cast<std::size_t>(unfinished) >= options_.most_of_one_person) {
        return Problem{ProblemKind::limit,
                       {},
                       std::to_string(unfinished) + " of your questions are not answered yet",
                       "wait for one, or cancel one"};
    }
    if (stopped_ || waiting_.size() >= options_.most_waiting) {
        return Problem{ProblemKind::outside,
                       {},
                       stopped_ ? "the server is stopping" : "too many questions wait already",
                       "ask again in some minutes"};
    }
    auto job =
        std::make_shared<Job>(random_id(clock_()), std::move(question), by.id, std::move(work));
    jobs_.emplace(job->id, job);
    waiting_.push_back(job);
    work_waits_.notify_one();
    return job->shown();
}

Result<JobShown> Jobs::look(const Uuid& id, const Person& by) {
    const std::lock_guard lock(mutex_);
    const auto job = find_now(id, by);
    if (!job) {
        return job.problems();
    }
    return (*job)->shown();
}

Result<io::QuestionAnswer> Jobs::result(const Uuid& id, const Person& by) {
    const std::lock_guard lock(mutex_);
    const auto found = find_now(id, by);
    if (!found) {
        return found.problems();
    }
    const Job& job = **found;
    switch (job.state.load()) {
        case JobState::done: return job.answer;
        case JobState::failed: return job.problems;
        case JobState::cancelled:
            return Problem{ProblemKind::missing, {}, "this was cancelled", "start it again"};
        case JobState::waiting:
        case JobState::running: break;
    }
    return Problem{ProblemKind::conflict, {}, "this is not answered yet", "wait until it is done"};
}

Result<Done> Jobs::cancel(const Uuid& id, const Person& by) {
    const std::lock_guard lock(mutex_);
    const auto found = find_now(id, by);
    if (!found) {
        return found.problems();
    }
    if (io::is_over((*found)->state)) {
        jobs_.erase(id);
    } else {
        if (std::erase(waiting_, *found) > 0) {
            (*found)->work = {};
        }
        end_now(**found, JobState::cancelled);
    }
    return Done{};
}

Result<http::Stream> Jobs::events(const Uuid& id, const Person& by, std::uint64_t seen) {
    const std::lock_guard lock(mutex_);
    const auto found = find_now(id, by);
    if (!found) {
        return found.problems();
    }
    return http::Stream([job = *found, seen, clock = clock_, heartbeat = options_.heartbeat,
                         spoke = clock_(),
                         is_told = false]() mutable -> std::optional<std::string> {
        const auto shown = job->shown();
        if (is_told) {
            return std::nullopt;
        }
        is_told = io::is_over(shown.state);
        const auto number = io::event_number(shown);
        const auto now = clock();
        // The end is told even to somebody who knows it: whoever asks again waits for it.
        if (number > seen || is_told) {
            seen = number;
            spoke = now;
            return io::event_text(shown);
        }
        if (now - spoke >= heartbeat) {
            spoke = now;
            return ": still here\n\n";
        }
        return "";
    });
}

void Jobs::stop() {
    {
        const std::lock_guard lock(mutex_);
        stopped_ = true;
        waiting_.clear();
        for (const auto& [id, job] : jobs_) {
            if (!io::is_over(job->state)) {
                end_now(*job, JobState::cancelled);
            }
        }
    }
    workers_.clear();  // asks each to stop, and waits for it
}

Result<Jobs::Held> Jobs::find_now(const Uuid& id, const Person& by) {
    forget_old_now();
    const auto found = jobs_.find(id);
    if (found == jobs_.end() || (found->second->by != by.id && by.role != Role::owner)) {
        return Problem{ProblemKind::missing,
                       {.file = "", .line = 0, .field = "id"},
                       "there is no such job, or no more",
                       "answers are kept for some minutes: start it again"};
    }
    return found->second;
}

void Jobs::end_now(Job& job, JobState state) {
    job.is_cancelled = state == JobState::cancelled;
    job.ended = clock_();
    job.share = state == JobState::done ? 1.0 : job.share.load();
    job.state = state;
}

void Jobs::forget_old_now() {
    const auto now = clock_();
    std::erase_if(jobs_, [&](const auto& one) {
        return io::is_over(one.second->state) && one.second->ended + options_.kept <= now;
    });
    const auto is_over = [](const auto& one) { return io::is_over(one.second->state); };
    auto over = static_cast<std::size_t>(std::ranges::count_if(jobs_, is_over));
    for (; over > options_.most_kept; --over) {
        // Ids sort by when they were made.
        jobs_.erase(std::ranges::find_if(jobs_, is_over));
    }
}

void Jobs::work_until(const std::stop_token& stop) {
    for (;;) {
        Held job;
        {
            std::unique_lock lock(mutex_);
            work_waits_.wait(lock, stop, [this] { return !waiting_.empty(); });
            if (waiting_.empty()) {
                return;
            }
            job = std::move(waiting_.front());
            waiting_.pop_front();
            job->state = JobState::running;
        }
        run(*job);
    }
}

void Jobs::run(Job& job) {
    Result<io::QuestionAnswer> answer = io::QuestionAnswer{};
    try {
        answer = job.work(job);
    } catch (const std::exception&) {
        answer = Problem{ProblemKind::outside,
                         {},
                         "this could not be worked out here, perhaps for want of memory",
                         "ask for fewer draws"};
    }
    job.work = {};
    const std::lock_guard lock(mutex_);
    if (job.state != JobState::running) {
        return;  // cancelled meanwhile
    }
    if (answer) {
        job.answer = std::move(*answer);
    } else {
        job.problems = answer.problems();
    }
    end_now(job, answer ? JobState::done : JobState::failed);
}

}  // namespace beetwright::app
