// The uncertain amounts of one field: everything that was counted, dug, weighed or analysed there,
// or stands in for it. With the catalogue's constants they are all that a field's ledger depends
// on.
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <string_view>

#include "base/estimate.hpp"
#include "base/quantity.hpp"
#include "num/uncertain.hpp"

namespace beetwright::ledger {

/// In SI: shares and contents in kg/kg or 1/1, areas in m2 per beet, K, Na and N in mol/kg clean.
enum class Amount : unsigned char {
    beet_mass,   ///< [kg/m2] weighed with soil and tops, or standing clean beet: see FieldAmounts
    soil,        ///< [kg soil / kg clean]
    tops,        ///< [kg leaf and stalks / kg clean]
    deep_share,  ///< of beets judged for topping: too deep
    slanted_share,
    long_petioles,
    short_petioles,
    untouched,        ///< whole crown left
    tail_moment,      ///< mean of (break diameter / 5 cm) ^ exponent, at the central exponent
    tail_break_area,  ///< [m2] mean open area of the break
    scar_area,        ///< [m2] mean area of the topping cut
    skin_damage,      ///< [m2] mean area of torn skin
    rotten,           ///< share of beets
    frosted,          ///< share of beets
    whole_roots,      ///< [kg/m2] left or thrown out
    pieces,           ///< [kg/m2]
    pol,
    potassium,
    sodium,
    amino_nitrogen,
    deep_scars,  ///< mean of crown_above_scar() over beets topped too deep; 0: not measured
};
inline constexpr std::size_t kAmountCount = 21;

/// In the trade's words: "the count of broken tails".
std::string_view words(Amount amount);

struct AmountEvidence {
    num::Uncertain number;
    RestsOn rests_on = RestsOn::published;
    std::string words;  ///< what was seen: "100 beets at 10 spots"

    bool operator==(const AmountEvidence&) const = default;
};

/// What `beet_mass` means for this field.
enum class MassBasis : unsigned char {
    weighed,   ///< loads crossed a weighbridge: mass with soil and tops, per area
    standing,  ///< an expectation of clean beet, topped correctly, before harvest
};

/// The tail moment at three exponents: the central one less kExponentStep, central, plus
/// kExponentStep. A quadratic through them follows the exponent from draw to draw.
struct TailShape {
    double below_ratio = 1.0;  ///< moment at (central - step) / moment at central
    double above_ratio = 1.0;

    bool operator==(const TailShape&) const = default;
};
inline constexpr double kExponentStep = 0.3;

/// How `deep_scars` changes with the root's widest place, for the usual root at the catalogue's
/// centre: the scars' means where it is kWidestStep narrower and wider, over that at the centre.
struct ScarShape {
    double narrower_ratio = 1.0;
    double wider_ratio = 1.0;

    bool operator==(const ScarShape&) const = default;
};
inline constexpr double kWidestStep = 1.1;

/// What says how deep a cut "too deep" is.
enum class DeepCutBasis : unsigned char {
    usual_depth,  ///< constant topping.deep_excess
    scars,        ///< scars measured on beets of this field or of its machine's others
};

struct FieldAmounts {
    std::array<AmountEvidence, kAmountCount> amounts;
    MassBasis mass_basis = MassBasis::standing;
    TailShape tail_shape;
    DeepCutBasis deep_cut_basis = DeepCutBasis::usual_depth;
    ScarShape scar_shape;
    Area area;

    [[nodiscard]] const AmountEvidence& of(Amount amount) const {
        return amounts[static_cast<std::size_t>(amount)];
    }
    [[nodiscard]] AmountEvidence& of(Amount amount) {
        return amounts[static_cast<std::size_t>(amount)];
    }
    bool operator==(const FieldAmounts&) const = default;
};

}  // namespace beetwright::ledger
