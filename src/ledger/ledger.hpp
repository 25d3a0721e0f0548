// The sugar ledger: from standing crop to money, every line with its interval and its footing.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/estimate.hpp"
#include "base/quantity.hpp"
#include "base/time.hpp"

namespace beetwright::ledger {

/// The lines of the ledger, in the order in which the sugar passes them. Losses are negative
/// entries; the three balances (standing_crop, recovered, paid) are positive.
enum class Line : unsigned char {
    standing_crop,
    over_topping,           ///< crown cut away too deep
    tails,                  ///< tails broken and left
    whole_roots,            ///< whole roots left or thrown out
    pieces,                 ///< broken pieces and cheeks left
    storage_breathing,      ///< what a sound, clean beet breathes away
    storage_tail_wounds,    ///< more, because the tail's wound breathes and lets rot in
    storage_crown_wounds,   ///< more, because of the topping cut
    storage_skin_wounds,    ///< more, because of torn and abraded skin
    storage_leaf_and_soil,  ///< more, because leaf and soil warm, sprout and choke the air
    storage_rot_and_frost,  ///< rot carried in, frost-hurt beets, and rot after long warmth
    molasses,               ///< sugar that K, Na and amino N hold back in molasses
    crown_and_leaf,         ///< more of that, from crown tissue and leaf stalks delivered
    factory_loss,           ///< the fixed loss of processing
    recovered,              ///< sugar in the bag (balance)
    soil_and_tops,          ///< deductions for soil and tops delivered (money only)
    haul,                   ///< freight, less the buyer's allowance (money only)
    date_terms,             ///< supplement or premium for an early or late date (money only)
    paid,                   ///< money (balance)
};
inline constexpr std::size_t kLineCount = 19;

/// The line in the trade's words, e.g. "tails broken and left".
std::string_view words(Line line);
/// A stable name for programs, e.g. "tails".
std::string_view key(Line line);
constexpr bool is_balance(Line line) {
    return line == Line::standing_crop || line == Line::recovered || line == Line::paid;
}

constexpr bool is_storage(Line line) {
    return line >= Line::storage_breathing && line <= Line::storage_rot_and_frost;
}
/// Lines beyond these bounds leave beet mass, sugar or money as it is.
constexpr bool moves_mass(Line line) {
    return line <= Line::storage_rot_and_frost || line == Line::recovered;
}
constexpr bool moves_sugar(Line line) {
    return line <= Line::recovered;
}
constexpr bool moves_money(Line line) {
    return line != Line::factory_loss;
}

/// What an entry's uncertainty mostly comes from: a constant or something counted.
struct Contributor {
    std::string what;    ///< in words, e.g. "the count of broken tails (40 beets, 4 spots)"
    double share = 0.0;  ///< of the variance of the entry's sugar (money where it has no sugar)
};

struct Entry {
    Line line{};
    Estimate<CleanMassPerArea> mass;  ///< change of beet mass; zero where the line moves none
    Estimate<SugarPerArea> sugar;
    Estimate<MoneyPerArea> money;  ///< change of what the terms pay, step by step down the ledger
    /// What the ledger's last line would gain if this loss alone had not happened, with all that
    /// follows from it up to the slicing day. A broken tail also loses its beet's sugar in the
    /// pile.
    Estimate<MoneyPerArea> cost_at_slicing;
    RestsOn rests_on = RestsOn::published;
    /// Footing of what was counted for this line, apart from published rates that it needs besides.
    RestsOn counted = RestsOn::published;
    std::string evidence;  ///< what was counted, in words: "100 beets at 10 spots"
    Contributor contributor;
};

/// Whether an account is of a single field, and that one lifted.
enum class Lifting : std::uint8_t { of_many, lifted, not_yet };

/// The ledger of one field, or of a group of fields weighted by area.
struct Account {
    std::string name;  ///< the field's, machine's, operator's ... name
    Area area;
    std::size_t fields = 1;
    Lifting lifting = Lifting::of_many;
    Day lifted{};                ///< of a single field; assumed where it is not lifted yet
    Day sliced{};                ///< of a single field
    double days_stored = 0.0;    ///< of a group: mean, weighted by area
    std::vector<Entry> entries;  ///< one per line, in order
    /// Several lines together, whose intervals do not add up; NaN without full detail.
    Estimate<SugarPerArea> left_behind;  ///< whole roots and pieces
    Estimate<SugarPerArea> in_storage;   ///< all lines of storage
    /// Standing crop minus every line, which must be zero: the largest over all draws.
    CleanMassPerArea mass_left_over;
    SugarPerArea sugar_left_over;
    MoneyPerArea money_left_over;
    std::vector<std::string> not_proven;  ///< what the counts do not yet prove, in sentences

    [[nodiscard]] const Entry& entry(Line line) const {
        return entries[static_cast<std::size_t>(line)];
    }
};

}  // namespace beetwright::ledger
