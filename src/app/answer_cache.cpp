#include "app/answer_cache.hpp"

#include <exception>

namespace beetwright::app {
namespace {

/// Beside the answer itself: key, stamp and what holds them together.
constexpr std::size_t kOverhead_bytes = 4096;
constexpr int kWentWell = 200;

}  // namespace

http::Response AnswerCache::get(const std::string& key, const Stamp& stamp,
                                const std::function<http::Response()>& make) {
    std::promise<Answer> promise;
    std::shared_future<Answer> answer;
    std::uint64_t number = 0;  // of the entry that is ours to fill
    {
        const std::lock_guard lock(mutex_);
        const auto found = by_key_.find(key);
        if (found != by_key_.end() && found->second->stamp == stamp) {
            entries_.splice(entries_.begin(), entries_, found->second);
            answer = found->second->answer;
            ++hits_;
        } else {
            if (found != by_key_.end()) {
                remove(found->second);
            }
            number = ++last_number_;
            answer = promise.get_future().share();
            entries_.push_front({key, stamp, answer, number, 0});
            by_key_[key] = entries_.begin();
        }
    }
    if (number == 0) {
        return *answer.get();
    }
    try {
        promise.set_value(std::make_shared<const http::Response>(make()));
    } catch (...) {
        promise.set_exception(std::current_exception());
        forget(key, number);
        throw;
    }
    keep(key, number, *answer.get());
    return *answer.get();
}

void AnswerCache::keep(const std::string& key, std::uint64_t number, const http::Response& answer) {
    const std::size_t bytes = answer.body.size() + key.size() + kOverhead_bytes;
    if (answer.status != kWentWell || bytes > most_bytes_) {
        forget(key, number);
        return;
    }
    const std::lock_guard lock(mutex_);
    const auto found = by_key_.find(key);
    if (found == by_key_.end() || found->second->number != number) {
        return;  // asked anew meanwhile, with another stamp
    }
    found->second->bytes = bytes;
    bytes_ += bytes;
    while (bytes_ > most_bytes_) {
        remove(std::prev(entries_.end()));
    }
}

void AnswerCache::forget(const std::string& key, std::uint64_t number) {
    const std::lock_guard lock(mutex_);
    const auto found = by_key_.find(key);
    if (found != by_key_.end() && found->second->number == number) {
        remove(found->second);
    }
}

void AnswerCache::remove(Entries::iterator entry) {
    bytes_ -= entry->bytes;
    by_key_.erase(entry->key);
    entries_.erase(entry);
}

std::int64_t AnswerCache::hits() const {
    const std::lock_guard lock(mutex_);
    return hits_;
}
std::size_t AnswerCache::bytes() const {
    const std::lock_guard lock(mutex_);
    return bytes_;
}

}  // namespace beetwright::app
