// In which order should the parts of all piles go to the slicer?
//
// A struct in, a struct out; no I/O. docs/methods/slicing_order.md.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "campaign/slicing_order.hpp"
#include "engine/pile_study.hpp"

namespace beetwright::engine {

struct PileOrderQuestion {
    StudyQuestion about;  ///< its pile and its last day are not looked at
    /// Clean beet that the slicer takes of the piles in a day; absent: as much as slices them by
    /// the last day on which the season wants any of them sliced.
    std::optional<CleanMass> a_day = {};
    campaign::TakenFrom taken_from = campaign::TakenFrom::either_end;
    Money loader_move = Money::zero();  ///< of the loader to another pile
};

struct PileOrderAnswer {
    Day today{};
    CleanMass a_day;
    std::vector<std::string> piles;
    std::vector<std::vector<PilePart>> parts;  ///< by pile, as campaign::PartPlace counts them
    campaign::SlicingOrder order;
    std::vector<std::string> left_out;  ///< piles that nothing could be worked out of, and why
    std::vector<std::string> assumptions;
};

/// Problems: the season has no pile with anything in it; a rate that would take more than 250 days;
/// and those of campaign::best_slicing_order(); that it was stopped.
Result<PileOrderAnswer> ask_pile_order(const ledger::Season& season,
                                       const PileOrderQuestion& question, WorkerPool& pool,
                                       Progress* progress = nullptr);

}  // namespace beetwright::engine
