// What a cut too deep takes away, by its depth below the correct cut or by the scar it leaves.
// docs/methods/topping.md.
#pragma once

#include <algorithm>

#include "base/catalogue.hpp"
#include "base/quantity.hpp"

namespace beetwright::beet {

inline constexpr double kLargestOverTopping = 0.6;

/// Share of the correctly topped root lost by a cut this far [m] below the correct one: a straight
/// line through the four published tables. `per_depth` [1/m] is constant topping.loss_per_depth.
inline double over_topping_loss(double depth_m, double per_depth) {
    return std::clamp(per_depth * depth_m, 0.0, kLargestOverTopping);
}

/// The crown as half an ellipsoid standing on the root's widest place: `radius` there, `height` up
/// to the growing point.
struct Crown {
    Length radius;
    Length height;

    /// How deep below the top a level cut of this diameter lies; as deep as the widest place for
    /// scars as wide as the root or wider.
    [[nodiscard]] Length cut_depth(Length scar_diameter) const;
    /// Volume above a cut at this depth below the top (0 to height).
    [[nodiscard]] Volume volume_above(Length depth) const;
};

/// Share of the root lost because the scar is `scar` wide where `correct_scar` would do: the volume
/// of the crown between the two cuts over the volume of the correctly topped root. Zero for a
/// smaller scar.
double over_topping_loss_of_scar(Length scar, Length correct_scar, const Crown& crown,
                                 Volume topped_root);

/// Mean share lost by a beet judged "too deep", and by one judged "slanted", when nobody measured
/// its scar.
template <class Get>
double loss_of_deep_cut(Get&& get) {
    return over_topping_loss(get(ConstantId::topping_deep_excess),
                             get(ConstantId::topping_loss_per_depth));
}
template <class Get>
double loss_of_slanted_cut(Get&& get) {
    return over_topping_loss(get(ConstantId::topping_slanted_excess),
                             get(ConstantId::topping_loss_per_depth));
}

}  // namespace beetwright::beet
