// What lies where in a pile: its loads laid one after another along it, as parts that were piled at
// one time.
//
// Each part is a section of the pile with a history of its own: when it was piled, with whose
// beets, and when it was taken away. docs/methods/pile_parts.md.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/catalogue.hpp"
#include "base/result.hpp"
#include "ledger/amounts.hpp"
#include "ledger/pile_site.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

/// One field's beets in a part.
struct BeetInPart {
    std::size_t field = 0;  ///< its place in the season
    CleanMass mass;
};

/// What was piled at one time: in a pile that is built in layers, one of them.
struct PileLayer {
    Instant piled{};  ///< mean of its loads by mass
    Day lifted{};     ///< of its beets, likewise
    CleanMass mass = CleanMass::zero();
    std::vector<BeetInPart> beets;                         ///< in the season's order
    Length bottom = Length::zero(), top = Length::zero();  ///< over the ground
};

struct PilePart {
    Length from, to;                      ///< along the pile, from the end at which it was begun
    std::vector<PileLayer> layers;        ///< from the ground up; one at least
    std::optional<Instant> removed = {};  ///< when it was taken away, by now

    [[nodiscard]] CleanMass mass() const;
    /// When the first of it was piled.
    [[nodiscard]] Instant piled() const { return layers.front().piled; }
    /// Of its layers, field by field, in the season's order.
    [[nodiscard]] std::vector<BeetInPart> beets() const;

    [[nodiscard]] Length middle() const { return 0.5 * (from + to); }
};

struct PileContents {
    ledger::PileSite site;  ///< as it is laid out, or as such piles usually are
    std::vector<PilePart> parts;
    CleanMass mass = CleanMass::zero();  ///< with what was taken away by now
    std::vector<std::string> assumptions;
};

/// Most parts that a pile is told apart in, and most layers of one.
inline constexpr std::size_t kMostParts = 8;
inline constexpr std::size_t kMostLayers = 3;

/// Whether a stretch holds a place along a pile.
bool reaches(const check::Stretch& stretch, Length place);

/// `season` as it was known `now`, without what was superseded; `amounts` by its fields. Problems:
/// no destination of this name, one that is no pile, a pile that nothing was brought to, one that
/// is shorter than what was brought there would need by more than half.
Result<PileContents> pile_contents(const ledger::Season& season, const std::string& pile,
                                   std::span<const ledger::FieldAmounts> amounts,
                                   const Catalogue& catalogue, Instant now);

}  // namespace beetwright::engine
