// Gathers what is wrong with an input: every problem is counted, the first few hundred are told.
#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <utility>

#include "base/result.hpp"

namespace beetwright::io {

class ProblemList {
 public:
    /// More than a person mends in one go; the rest are only counted.
    static constexpr std::size_t kMostListed = 200;

    void add(Problem problem) {
        ++count_;
        if (listed_.size() < kMostListed) {
            listed_.push_back(std::move(problem));
        }
    }
    /// A problem of the user's own data.
    void add(Where where, std::string what, std::string fix) {
        add({ProblemKind::input, std::move(where), std::move(what), std::move(fix)});
    }
    void add(Problems problems) {
        for (auto& problem : problems) {
            add(std::move(problem));
        }
    }

    [[nodiscard]] bool empty() const { return count_ == 0; }
    [[nodiscard]] std::size_t count() const { return count_; }

    /// What was gathered, with a last line that says how many more there are.
    [[nodiscard]] Problems take() && {
        if (count_ > listed_.size()) {
            listed_.push_back({ProblemKind::input,
                               {},
                               "and " + std::to_string(count_ - listed_.size()) + " more problems",
                               "mend those above first, then try again"});
        }
        return std::move(listed_);
    }

 private:
    Problems listed_;
    std::size_t count_ = 0;
};

}  // namespace beetwright::io
