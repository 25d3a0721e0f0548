// What members of a pile predict for what was read in it: their histories, from piling to the last
// reading. docs/methods/pile_probes.md.
#pragma once

#include <set>
#include <span>
#include <utility>
#include <vector>

#include "engine/pile_study.hpp"
#include "engine/probe_faults.hpp"

namespace beetwright::engine {

/// Members and what they predict; whoever moves the members has them predict() anew.
///
/// Histories run in coarser cells than the forecast, in the parts in which something was read. What
/// finer cells make of it is seen in some members, which are run in the forecast's own as well.
class ProbeHistories {
 public:
    /// Of so many new members. `study`, `pool` and `steps` outlive it.
    ProbeHistories(const PileStudy& study, std::size_t members, WorkerPool& pool, Steps& steps);

    [[nodiscard]] const std::vector<ProbePlace>& places() const { return places_; }
    [[nodiscard]] const std::set<std::size_t>& parts() const { return parts_; }
    [[nodiscard]] std::vector<PileMember>& members() { return members_; }
    [[nodiscard]] const std::vector<PileMember>& members() const { return members_; }
    /// By place; after predict().
    [[nodiscard]] const std::vector<PredictedPlace>& predicted() const { return predicted_; }

    /// The same for any number of threads. A member in which no flow of air stands becomes the next
    /// one that does. Problems: an eighth of the members or more do not stand; it was stopped.
    Result<Done> predict();

 private:
    /// A part in a member.
    struct Run {
        std::size_t part, member;
        bool is_fine;
    };
    [[nodiscard]] std::vector<Run> runs_in_order() const;
    [[nodiscard]] bool is_coarse() const { return basis_.cell > study_.basis().cell; }
    [[nodiscard]] std::size_t fines() const;  ///< members that are run in fine cells, too
    void gather_samples(std::size_t part);
    Result<Done> replace_fallen(const std::vector<Run>& runs,
                                std::vector<std::vector<Sample>>& found,
                                const std::vector<Problems>& wrong);
    void spread_over_places(const std::vector<std::vector<Sample>>& found);

    const PileStudy& study_;
    WorkerPool& pool_;
    Steps& steps_;
    CourseBasis basis_;  ///< in coarse cells
    std::vector<ProbePlace> places_;
    std::vector<PileMember> members_;
    std::set<std::size_t> parts_;  ///< in which something was read
    Instant ends_{};
    std::vector<std::vector<SampleAt>> samples_;  ///< by part
    std::vector<std::vector<std::pair<std::size_t, std::size_t>>> places_of_sample_;
    std::vector<PredictedPlace> predicted_;
};

/// How much of a run's work (PileStudy::runs) their predict() takes with so many members; nought
/// where nothing was read.
double history_runs(const PileStudy& study, std::size_t members);

}  // namespace beetwright::engine
