// One draw of a field's amounts and constants, made into the state that flows down the ledger.
#pragma once

#include <algorithm>
#include <array>

#include "ledger/amounts.hpp"
#include "ledger/flow.hpp"
#include "ledger/model.hpp"

namespace beetwright::ledger {

/// One draw of every amount, SI, by Amount.
using AmountDraw = std::array<double, kAmountCount>;

/// Shares beyond these are not beets any more; they keep a wild draw from dividing by nothing.
inline constexpr double kLargestLossShare = 0.6;
inline constexpr double kLeastHarvestedShare = 0.05;

/// One at x = 0, `below` at -1 and `above` at 1, never less than nothing.
inline double along_parabola(double x, double below, double above) {
    const double slope = 0.5 * (above - below);
    const double bend = 0.5 * (above + below) - 1.0;
    return std::max(0.0, 1.0 + x * (slope + x * bend));
}

/// The mean of (break diameter / 5 cm)^exponent at this draw's exponent, by the quadratic through
/// the three exponents at which it was counted.
inline double tail_moment(const TailShape& shape, double central_moment, double exponent,
                          double central_exponent) {
    const double x = (exponent - central_exponent) / kExponentStep;
    return central_moment * along_parabola(x, shape.below_ratio, shape.above_ratio);
}

/// Mean share of its root that a beet topped too deep loses in this draw.
inline double loss_of_deep_cut(double deep_scars, const DrawConstants& constants,
                               const FieldAmounts& field) {
    if (field.deep_cut_basis == DeepCutBasis::usual_depth) {
        return constants.loss_of_deep_cut;
    }
    const auto& shape = field.scar_shape;
    const double scars = deep_scars * along_parabola(constants.narrower_steps, shape.wider_ratio,
                                                     shape.narrower_ratio);
    return beet::over_topping_loss_of_scars(scars, constants.scars);
}

inline Standing standing_of(const AmountDraw& draw, const DrawConstants& constants,
                            const FieldAmounts& field, double central_exponent) {
    const auto at = [&](Amount a) { return draw[static_cast<std::size_t>(a)]; };
    Standing s;
    const double moment = tail_moment(field.tail_shape, at(Amount::tail_moment),
                                      constants.tip.exponent, central_exponent);
    s.tail_share = std::min(constants.tip.loss_at_5cm * moment, 0.5 * kLargestLossShare);
    const double of_deep_cut = loss_of_deep_cut(at(Amount::deep_scars), constants, field);
    s.over_topped_share = std::min(at(Amount::deep_share) * of_deep_cut +
                                       at(Amount::slanted_share) * constants.loss_of_slanted_cut,
                                   0.5 * kLargestLossShare);
    s.whole_roots = at(Amount::whole_roots);
    s.pieces = at(Amount::pieces);
    s.soil = at(Amount::soil);
    s.tops = at(Amount::tops);
    const double mass = at(Amount::beet_mass);
    if (field.mass_basis == MassBasis::weighed) {
        const double clean = mass / (1.0 + s.soil + s.tops);
        s.harvested = clean / (1.0 - s.over_topped_share - s.tail_share);
    } else {
        s.harvested = std::max(mass - s.whole_roots - s.pieces, kLeastHarvestedShare * mass);
    }
    s.pol = at(Amount::pol);
    s.crown_slice_sugar_ratio = constants.profile.crown_slice_sugar_ratio;
    s.tail_sugar_ratio = constants.profile.tail_sugar_ratio;
    s.factory_loss = constants.factory_loss;

    const double analysed =
        worth::molasses_loss(constants.molasses, at(Amount::potassium), at(Amount::sodium),
                             at(Amount::amino_nitrogen), s.pol);
    const double leaf_effect =
        at(Amount::long_petioles) * constants.profile.molasses_of_long_petioles +
        at(Amount::untouched) * constants.profile.molasses_of_untouched_crown * analysed;
    // The laboratory's beets carried the same leaf: its result holds both parts.
    s.molasses_of_leaf = std::min(leaf_effect, analysed);
    s.molasses = analysed - s.molasses_of_leaf;

    const double surface = constants.root_surface_m2;
    s.condition.tail_wound = at(Amount::tail_break_area) / surface;
    s.condition.crown_wound = at(Amount::scar_area) / surface;
    s.condition.skin_wound = at(Amount::skin_damage) / surface;
    s.condition.leaf = s.tops;
    s.condition.soil = s.soil;
    s.condition.rotten_share = at(Amount::rotten);
    s.condition.frosted_share = at(Amount::frosted);
    return s;
}

}  // namespace beetwright::ledger
