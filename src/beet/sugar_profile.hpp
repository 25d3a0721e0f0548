// Where sugar and impurities sit from crown to tail, and what leaf stalks weigh.
// docs/methods/sugar_profile.md.
#pragma once

#include "base/catalogue.hpp"

namespace beetwright::beet {

struct ProfileConstants {
    double tail_sugar_ratio = 1.0;         ///< sugar content of a tail / that of the delivered beet
    double crown_slice_sugar_ratio = 1.0;  ///< the same of a slice cut off below the correct cut
    double molasses_of_long_petioles =
        0.0;  ///< [kg/kg] more molasses loss if every beet carried stalks
    double molasses_of_untouched_crown =
        0.0;  ///< relative rise of molasses loss if every crown were whole
    double crown_impurity_ratio = 1.0;  ///< impurities at the top of the crown / below it
    double long_stalks = 0.0;   ///< [kg/kg clean] stalks if every beet carried long ones (> 2 cm)
    double short_stalks = 0.0;  ///< the same of short ones
};

template <class Get>
ProfileConstants profile_constants(Get&& get) {
    return {.tail_sugar_ratio = get(ConstantId::profile_tail_sugar),
            .crown_slice_sugar_ratio = get(ConstantId::profile_crown_slice_sugar),
            .molasses_of_long_petioles = get(ConstantId::profile_petiole_molasses),
            .molasses_of_untouched_crown = get(ConstantId::profile_crown_molasses),
            .crown_impurity_ratio = get(ConstantId::profile_crown_impurity),
            .long_stalks = get(ConstantId::profile_long_stalks),
            .short_stalks = get(ConstantId::profile_short_stalks)};
}

/// Sugar content along the root relative to the content at the groove, after Mahn, Hoffmann and
/// Maerlaender 2002 [V: falls by about a third from root to upper stem]: 1 below the crown, falling
/// evenly by `total_fall` over the crown's height to its top. `height` runs from 0 (foot of the
/// crown) to 1 (top).
double sugar_along_crown(double height, double total_fall);
/// The mean of that over the crown between two heights, weighted evenly.
double mean_sugar_along_crown(double from, double to, double total_fall);
/// Impurities along the crown relative to those below it, rising evenly to `top_ratio`.
double impurity_along_crown(double height, double top_ratio);
double mean_impurity_along_crown(double from, double to, double top_ratio);

/// A part of a root: its mass and contents, relative to some whole.
struct Portion {
    double mass = 0.0;
    double sugar = 1.0;     ///< content
    double molasses = 1.0;  ///< sugar that its impurities hold back, per mass
};

/// Two parts as one; mass, sugar and molasses add up.
Portion joined(const Portion& one, const Portion& other);

/// What a part must hold so that, joined to one of mass 1 and contents 1, it changes mass and
/// contents by these shares of it. With the trial of whole crowns against topped ones (+9.1 % mass,
/// -2.8 % sugar content, +5.3 % molasses loss; IfZ [V]) this is the crown. `mass_gain` > 0.
Portion portion_added(double mass_gain, double sugar_change, double molasses_change);

/// Stalks delivered [kg/kg clean beet] when these shares of the beets carry long and short ones.
inline double stalks_of(double long_share, double short_share, const ProfileConstants& constants) {
    return long_share * constants.long_stalks + short_share * constants.short_stalks;
}

}  // namespace beetwright::beet
