// What is truly inside one of the demo season's piles: the physics of piles, run with scores of
// its own under the weather that was measured. Nothing of it is written to the season but what
// probes read.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/pile_study.hpp"

namespace beetwright::demo {

/// Where a probe's tip is at an instant.
struct InPile {
    Instant at{};
    engine::PlaceInPile place;
};

class HiddenPile {
 public:
    /// `season` with its loads, piles, covers and weather, and outlives this.
    HiddenPile(const ledger::Season& season, const std::string& pile, Instant told);

    /// At each of these, in order of time; absent where no beets lie yet.
    [[nodiscard]] std::vector<std::optional<Temperature>> at(std::span<const InPile> where) const;

 private:
    std::unique_ptr<engine::PileStudy> study_;
    engine::PileMember truth_;
};

}  // namespace beetwright::demo
