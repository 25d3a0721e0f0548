// How far a long piece of work has come, and whether anybody still wants it.
//
// The engine reports and asks; who listens brings the clock, the threads and the patience. The
// answer of work that was not stopped is the same to the last bit whether or not anybody listens.
#pragma once

#include <algorithm>
#include <atomic>

#include "base/result.hpp"

namespace beetwright {

class Progress {
 public:
    virtual ~Progress() = default;
    /// `share` of the work is done, from 0 to 1; false: stop, and it is not called again. Called
    /// often, from whichever thread works, one at a time; must not wait.
    virtual bool go_on(double share) = 0;

 protected:
    Progress() = default;
    Progress(const Progress&) = default;
    Progress& operator=(const Progress&) = default;
};

/// What work gives that somebody stopped.
inline Problem not_wanted() {
    return {ProblemKind::outside, {}, "this was stopped before it was done", "ask again"};
}

/// Counts steps of work towards their number, for whoever follows it.
class Steps {
 public:
    /// `progress` may be null: nobody follows.
    Steps(Progress* progress, double all) : progress_(progress), all_(all) {}

    /// So many more are done; false once the work is to be stopped.
    bool done(double count) {
        if (progress_ == nullptr) {
            return true;
        }
        const double so_far = done_.fetch_add(count) + count;
        // Whoever follows does not wait, so nobody spins for long; and after a no none asks again.
        while (asking_.test_and_set(std::memory_order_acquire)) {
        }
        if (!stopped_ && !progress_->go_on(std::min(1.0, so_far / all_))) {
            stopped_ = true;
        }
        asking_.clear(std::memory_order_release);
        return !stopped_;
    }
    [[nodiscard]] bool are_stopped() const { return stopped_; }

 private:
    Progress* progress_;
    double all_;
    std::atomic<double> done_ = 0.0;
    std::atomic<bool> stopped_ = false;
    std::atomic_flag asking_;
};

}  // namespace beetwright
