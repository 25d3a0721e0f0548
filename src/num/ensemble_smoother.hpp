// What observations say of the members of an ensemble: a step of an ensemble smoother with multiple
// data assimilation (Emerick and Reynolds 2013, Computers and Geosciences 55:3-15).
//
// Each member is a set of scores and what it predicts for the observations. A step moves every
// member's scores towards what was observed, by how scores and predictions go together over the
// members, as if the observations' errors were greater than they are; several steps, each with new
// predictions and with inflations whose inverses sum to 1, are one use of the observations. In a
// linear model with normal scores and many members that is Kalman's answer.
//
// It works along the principal components of the predictions, in which predictions of members do
// not go together: each component's gain is then a number. Few members make scores and predictions
// seem to go together by chance, and members would lose their spread by that; so each score's gain
// by each component is shrunk by how sure their correlation is. docs/methods/pile_probes.md.
#pragma once

#include <array>
#include <cstddef>
#include <span>

#include "base/random.hpp"

namespace beetwright::num {

struct SmootherStep {
    std::size_t members = 0;
    /// In standard deviations of their errors, which are independent: member by member.
    std::span<const double> predicted;
    std::span<const double> observed;
    double inflation = 1.0;  ///< of the errors' variance in this step
};

/// Four steps that are one: their inverses sum to 1 (Emerick and Reynolds 2013, table 1).
inline constexpr std::array kInflations{28.0 / 3.0, 7.0, 4.0, 2.0};

/// Moves `scores`: score by score, of each all members. `random` draws the observations' errors
/// anew for each member.
void smooth(std::span<double> scores, const SmootherStep& step, RandomStream random);

}  // namespace beetwright::num
