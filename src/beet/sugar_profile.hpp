// Where sugar and impurities sit from crown to tail. docs/methods/sugar_profile.md.
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
};

template <class Get>
ProfileConstants profile_constants(Get&& get) {
    return {.tail_sugar_ratio = get(ConstantId::profile_tail_sugar),
            .crown_slice_sugar_ratio = get(ConstantId::profile_crown_slice_sugar),
            .molasses_of_long_petioles = get(ConstantId::profile_petiole_molasses),
            .molasses_of_untouched_crown = get(ConstantId::profile_crown_molasses)};
}

/// Sugar content along the root relative to the content at the groove, after Mahn, Hoffmann and
/// Maerlaender 2002 [V: falls by about a third from root to upper stem]: 1 below the crown, falling
/// evenly by `total_fall` over the crown's height to its top. `height` runs from 0 (foot of the
/// crown) to 1 (top).
double sugar_along_crown(double height, double total_fall);

/// The mean of that over the crown between two heights, weighted evenly.
double mean_sugar_along_crown(double from, double to, double total_fall);

}  // namespace beetwright::beet
