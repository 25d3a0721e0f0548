// Long questions, answered beside all else: they wait in a row, run a few at a time, tell how far
// they are, can be cancelled, and keep their answer for some minutes.
//
// A job belongs to whoever started it; to others but owners it is as if it were not there.
#pragma once

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "app/people.hpp"
#include "base/progress.hpp"
#include "http/message.hpp"
#include "io/job_json.hpp"
#include "io/questions.hpp"

namespace beetwright::app {

struct JobOptions {
    unsigned at_once = 1;
    std::size_t most_waiting = 16;
    std::size_t most_of_one_person = 4;  ///< that are not over yet
    std::size_t most_kept = 64;          ///< that are over; the oldest goes first
    std::chrono::minutes kept{10};       ///< after its end
    std::chrono::seconds heartbeat{15};  ///< between events when there is nothing to tell
};

/// All members may be called from several threads at once.
class Jobs {
 public:
    using Clock = std::function<Instant()>;
    using Work = std::function<Result<io::QuestionAnswer>(Progress&)>;

    explicit Jobs(Clock clock, const JobOptions& options = {});
    Jobs(const Jobs&) = delete;
    Jobs& operator=(const Jobs&) = delete;
    ~Jobs() { stop(); }

    /// Problems: limit, this person has too many already; outside, the row is full, or stopped.
    Result<io::JobShown> start(std::string question, Work work, const Person& by);
    // The problem of all that follow: there is no such job for this person.
    Result<io::JobShown> look(const Uuid& id, const Person& by);
    /// Problems besides: conflict, it is not over; missing, it was cancelled; those that it failed
    /// with.
    Result<io::QuestionAnswer> result(const Uuid& id, const Person& by);
    /// Cancels a job that is not over, forgets one that is.
    Result<Done> cancel(const Uuid& id, const Person& by);
    /// Events from now until the job is over; those up to number `seen` are known already.
    Result<http::Stream> events(const Uuid& id, const Person& by, std::uint64_t seen);

    /// Cancels all and takes no more. Waits until those that ran have let go.
    void stop();

 private:
    struct Job;
    using Held = std::shared_ptr<Job>;

    // Those that end in _now want the mutex held.
    Result<Held> find_now(const Uuid& id, const Person& by);
    void end_now(Job& job, io::JobState state);
    void forget_old_now();
    void work_until(const std::stop_token& stop);
    void run(Job& job);

    Clock clock_;
    JobOptions options_;
    std::mutex mutex_;
    std::condition_variable_any work_waits_;
    bool stopped_ = false;
    std::map<Uuid, Held> jobs_;
    std::deque<Held> waiting_;
    std::vector<std::jthread> workers_;  ///< last: they use all of the above
};

}  // namespace beetwright::app
