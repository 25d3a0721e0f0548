// What is not known of a pile, as members: each is one way in which everything may be.
//
// A member is a set of standard normal scores, one for each constant and for each thing that
// differs from part to part. Whatever corrects a pile by what was measured in it (pile_probes.hpp)
// moves scores, so that no constant ever leaves its own distribution.
// docs/methods/pile_question.md.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/catalogue.hpp"
#include "pile/constants.hpp"
#include "pile/lot.hpp"

namespace beetwright::engine {

/// Scores of one part of the pile.
struct PartScores {
    double as_piled = 0.0;    ///< warmth of its beets as they were piled
    double breathing = 0.0;   ///< against the pile's own level
    double resistance = 0.0;  ///< to air, likewise
    /// Of places in it against its other places: pile::BreathingWaves, in their order.
    std::array<double, 4> waves{};
    /// No scores, but logarithms: how far its beets' wounds at the tail, the crown and the skin,
    /// leaf and soil are from what was drawn for them.
    std::array<double, 5> moved{};
};

struct PileMember {
    std::array<double, kConstantCount> constants{};  ///< scores by ConstantId
    double air = 0.0;       ///< of the air at the pile against the weather's
    std::size_t beets = 0;  ///< which draw of its beets (PileStudy)
    std::vector<PartScores> parts;

    /// The constants of one of its parts.
    [[nodiscard]] pile::PileConstants constants_of(const Catalogue& catalogue,
                                                   std::size_t part) const;
    /// How unevenly one of its parts breathes.
    [[nodiscard]] pile::BreathingWaves waves_of(const Catalogue& catalogue, std::size_t part) const;
};

/// So many members of a pile of so many parts. Every score takes the midpoints of as many equal
/// slices of chance once each, in an order of its own (as ledger/draws.hpp does).
std::vector<PileMember> pile_members(std::uint64_t seed, std::size_t members, std::size_t parts);

}  // namespace beetwright::engine
