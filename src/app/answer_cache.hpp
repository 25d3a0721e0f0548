// Answers that are kept as long as what they follow from has not changed.
//
// Of each question, with its parameters, the last answer is kept, with a stamp of what it follows
// from; asked again with the same stamp, it is given again. Those who ask for the same at the same
// time wait for one of them to work it out.
#pragma once

#include <cstdint>
#include <functional>
#include <future>
#include <list>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>

#include "http/message.hpp"
#include "ledger/amounts.hpp"

namespace beetwright::app {

/// What an answer follows from besides its question: two that are equal give the same answer.
struct Stamp {
    std::int64_t revision = 0;
    std::optional<ledger::FieldAmounts> amounts;

    bool operator==(const Stamp&) const = default;
};

/// All members may be called from several threads at once.
class AnswerCache {
 public:
    explicit AnswerCache(std::size_t most_bytes) : most_bytes_(most_bytes) {}
    AnswerCache(const AnswerCache&) = delete;
    AnswerCache& operator=(const AnswerCache&) = delete;

    /// The answer that is kept, or what `make` gives, which is kept if it went well. `make` may not
    /// ask this cache. What it throws, all who wait for it get.
    http::Response get(const std::string& key, const Stamp& stamp,
                       const std::function<http::Response()>& make);

    /// Of all that was asked, how much was answered without being worked out.
    [[nodiscard]] std::int64_t hits() const;
    [[nodiscard]] std::size_t bytes() const;

 private:
    using Answer = std::shared_ptr<const http::Response>;
    struct Entry {
        std::string key;
        Stamp stamp;
        std::shared_future<Answer> answer;
        std::uint64_t number = 0;  ///< that no other has had
        std::size_t bytes = 0;     ///< 0: not worked out yet
    };
    using Entries = std::list<Entry>;

    void keep(const std::string& key, std::uint64_t number, const http::Response& answer);
    void forget(const std::string& key, std::uint64_t number);
    void remove(Entries::iterator entry);

    const std::size_t most_bytes_;
    mutable std::mutex mutex_;
    Entries entries_;  ///< that was asked for last, first
    std::map<std::string, Entries::iterator> by_key_;
    std::uint64_t last_number_ = 0;
    std::size_t bytes_ = 0;
    std::int64_t hits_ = 0;
};

}  // namespace beetwright::app
