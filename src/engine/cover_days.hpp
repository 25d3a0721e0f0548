// On which day a cover best goes on, and on which it comes off. docs/methods/pile_question.md.
#pragma once

#include <utility>
#include <vector>

#include "base/pool.hpp"
#include "base/progress.hpp"
#include "engine/pile_outcome.hpp"

namespace beetwright::engine {

/// Days on which a cover goes on and off, looked through.
struct BestDays {
    DeedAnswer best;
    Day earliest{}, latest{};  ///< to put it on: days that are as good, for all that is known
    std::vector<std::pair<Day, Estimate<Money>>> by_day;  ///< gain, if it is put on then and stays
};

/// How many times the whole pile is run for that, at most.
inline constexpr double kMostCoverDays = 14.0;

/// Weeks are looked through, and then days about the best of them; then when to take it off.
/// `cover` is a deed that puts one on. Problems: those of PileStudy::run().
Result<BestDays> best_cover_days(const PileStudy& study, const DeedAnswer& cover,
                                 const Outcome& left_alone, WorkerPool& pool, Steps& steps);

}  // namespace beetwright::engine
