// All of a season's piles, studied: for questions that are about more than one.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "engine/pile_probes.hpp"
#include "engine/pile_study.hpp"

namespace beetwright::engine {

struct StudiedPile {
    std::string pile;
    std::unique_ptr<PileStudy> study;  ///< null: there is none, and why
    Problems problems;

    /// "Yard: nothing has been brought to it yet ..."
    [[nodiscard]] std::string why_not() const { return pile + ": " + problems.front().text(); }
};

/// In the season's order. `about.pile` is not looked at.
std::vector<StudiedPile> study_piles(const ledger::Season& season, StudyQuestion about);

/// What learning from their readings and one run of each count for, for Steps.
double runs_of(const std::vector<StudiedPile>& piles);

/// The pile as it is left, in members that agree with what was read in it; `learned`, where given,
/// takes what that was. Problems: those of learn_from_probes() and PileStudy::run().
Result<Courses> learn_and_run(PileStudy& study, WorkerPool& pool, Steps& steps,
                              PileLearned* learned = nullptr);

}  // namespace beetwright::engine
