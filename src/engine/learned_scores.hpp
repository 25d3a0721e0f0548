// What readings of temperature may move of a pile's members: scores of those constants that say how
// warm a pile gets, and of the parts in which something was read. What else is not known stays as
// it is in each member. docs/methods/pile_probes.md.
#pragma once

#include <set>
#include <span>
#include <vector>

#include "engine/pile_study.hpp"

namespace beetwright::engine {

/// Scores of all members, taken out of them to be moved.
///
/// Wounds, leaf and soil of a part's beets are no scores but draws; they are moved by their
/// logarithms, and stand here by what was drawn and how far it was moved together. They must be
/// here: where half of what members differ by cannot be moved, only half of what they are off is.
class LearnedScores {
 public:
    /// `members` outlive it.
    LearnedScores(const PileStudy& study, std::span<PileMember> members,
                  const std::set<std::size_t>& parts);

    /// Score by score, of each all members.
    [[nodiscard]] std::span<double> values() { return values_; }
    /// Into the members, as they stand now.
    void put_back() const;

 private:
    std::size_t members_;
    std::vector<double*> where_;  ///< as values(): in which member each stands
    std::vector<double> drawn_;   ///< likewise: what it stands on
    std::vector<double> values_;
};

}  // namespace beetwright::engine
