// Lets so many through at once; the next waits a little and is then sent away.
#pragma once

#include <chrono>
#include <condition_variable>
#include <mutex>

namespace beetwright::app {

class Gate {
 public:
    Gate(unsigned at_once, std::chrono::milliseconds patience)
        : free_(at_once), patience_(patience) {}

    /// A place, given back when it goes out of scope; false where none came free in time.
    class Place {
     public:
        explicit Place(Gate* gate) : gate_(gate) {}
        Place(const Place&) = delete;
        Place& operator=(const Place&) = delete;
        ~Place() {
            if (gate_ != nullptr) {
                gate_->leave();
            }
        }
        explicit operator bool() const { return gate_ != nullptr; }

     private:
        Gate* gate_;
    };

    [[nodiscard]] Place enter() {
        std::unique_lock lock(mutex_);
        const bool is_free = changed_.wait_for(lock, patience_, [this] { return free_ > 0; });
        free_ -= is_free ? 1 : 0;
        return Place(is_free ? this : nullptr);
    }

 private:
    void leave() {
        {
            const std::lock_guard lock(mutex_);
            ++free_;
        }
        changed_.notify_one();
    }

    std::mutex mutex_;
    std::condition_variable changed_;
    unsigned free_;
    std::chrono::milliseconds patience_;
};

}  // namespace beetwright::app
