// What beets and soil are like on a knoll or in a hollow against the field at large: what is
// assumed beforehand, and what was seen in this very field.
//
// docs/methods/zones.md.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "base/catalogue.hpp"
#include "base/estimate.hpp"
#include "engine/zones_question.hpp"
#include "ground/patches.hpp"
#include "ground/surface.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

/// A number that is not sure. Before anything is heard it is what was assumed; then values of it,
/// in strata of what was assumed, weigh by how well they fit what was seen.
class Belief {
 public:
    /// `at_score`: the value at a standard normal score, rising with it.
    explicit Belief(std::function<double(double)> at_score);

    /// `log_likelihood`: of a value, by what was seen; up to a constant.
    void hear(const std::function<double(double)>& log_likelihood);
    [[nodiscard]] bool has_heard() const { return !weights_.empty(); }
    /// The value whose chance of not being exceeded is that of the score.
    [[nodiscard]] double at_score(double score) const;
    /// The middle one, with its 90 % interval.
    [[nodiscard]] Estimate<double> estimate() const;

 private:
    std::function<double(double)> assumed_;
    std::vector<double> values_;   ///< of the strata, rising; none until something is heard
    std::vector<double> weights_;  ///< of each, together 1
};

struct LieBeliefs {
    Belief crowns_higher_m;         ///< on a knoll
    Belief beet_share;              ///< mass of a beet on a knoll, of that in the field at large
    Belief wetter_chance;           ///< of soil in a hollow that feels one step wetter
    std::vector<std::string> seen;  ///< by what they were shifted, in sentences

    [[nodiscard]] LieExpected expected() const;
};

/// `season`: as it is known now, without what was superseded.
LieBeliefs lie_beliefs(const ledger::Season& season, const std::string& field,
                       const ground::Surface& surface, const std::vector<ground::Patch>& patches,
                       const Catalogue& catalogue);

}  // namespace beetwright::engine
