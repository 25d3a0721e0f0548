// Readings correct a pile's members: what was read in it, against what members predict for it.
//
// Scores of many members are moved by an ensemble smoother (num/ensemble_smoother.hpp) until their
// histories agree with the readings; as many of them as the question has members then stand for
// the pile. docs/methods/pile_probes.md.
#pragma once

#include <string>
#include <vector>

#include "base/estimate.hpp"
#include "engine/pile_study.hpp"
#include "engine/probe_faults.hpp"

namespace beetwright::engine {

/// One probe at one place.
struct ProbeAnswer {
    std::string probe;
    check::ProbeKind kind = check::ProbeKind::lance;
    PlaceInPile place;
    std::optional<std::size_t> part = {};
    std::size_t readings = 0;
    Instant at{};        ///< of the last
    double celsius = 0;  ///< that it says
    /// What members had there then, before and after readings were learned from. Absent: nothing
    /// lay there.
    std::optional<Estimate<double>> before, after;
    ProbeFault fault = ProbeFault::none;
    std::string why;  ///< it is not trusted, or is a spot of its own
    [[nodiscard]] bool is_trusted() const { return fault == ProbeFault::none; }
};

/// A level of the parts in which something was read, on their mean.
struct LearnedLevel {
    Estimate<double> before, after;
};

struct PileLearned {
    std::vector<ProbeAnswer> probes;
    /// Of sound, healed beets at 5 °C [g sugar/t/d].
    std::optional<LearnedLevel> breathing;
    /// Of a slow flow, against that of a pile of the central constants.
    std::optional<LearnedLevel> resistance;
};

/// How many members learn, at most; those that stay are among them.
inline constexpr std::size_t kLearners = 96;
/// Fewer for a question that asks for few members, which wants a quick look.
std::size_t learners(std::size_t members);
/// How much of a run's work learning takes, for Steps: nought where nothing was read.
double learning_runs(const PileStudy& study);

/// Puts members that agree with the readings in the place of the study's, which stay as they are
/// where nothing was read. The same for any number of threads. Problems: those of part_course();
/// that it was stopped.
Result<PileLearned> learn_from_probes(PileStudy& study, WorkerPool& pool, Steps& steps);

}  // namespace beetwright::engine
