// What a cut too deep takes away, by its depth below the correct cut or by the scar it leaves.
// docs/methods/topping.md.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/catalogue.hpp"
#include "base/quantity.hpp"
#include "beet/shape.hpp"

namespace beetwright::beet {

inline constexpr double kLargestOverTopping = 0.6;

/// Share of the correctly topped root lost by a cut this far [m] below the correct one: a straight
/// line through the four published tables. `per_depth` [1/m] is constant topping.loss_per_depth.
inline double over_topping_loss(double depth_m, double per_depth) {
    return std::clamp(per_depth * depth_m, 0.0, kLargestOverTopping);
}
inline double over_topping_loss(Length depth, double per_depth) {
    return over_topping_loss(depth.si(), per_depth);
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

/// The crown of a root of this shape, `height_ratio` times as high as the root's widest place is
/// wide in radius (constant topping.crown_height). Assumed: nobody has published a crown's height.
inline Crown crown_of(const RootShape& root, double height_ratio) {
    return {root.shoulder_radius, height_ratio * root.shoulder_radius};
}

/// Share of the root lost because the scar is `scar` wide where `correct_scar` would do: the volume
/// of the crown between the two cuts over the volume of the correctly topped root. Zero for a
/// smaller scar. Roots of one shape and unlike size lose alike at one ratio of scar to widest
/// diameter.
double over_topping_loss_of_scar(Length scar, Length correct_scar, const Crown& crown,
                                 Volume topped_root);

/// Volume of a crown above a cut whose scar is `across` times as wide as the root's widest place,
/// in cylinders as wide and high as the crown: 2/3 - u + u^3/3 with u = sqrt(1 - across^2); 2/3 for
/// scars as wide as the root or wider.
inline double crown_above_scar(double across) {
    const double level = std::sqrt(std::max(1.0 - across * across, 0.0));
    return 2.0 / 3.0 - level + level * level * level / 3.0;
}

/// What turns scars into mass lost, for the usual root in one draw of the constants.
struct ScarConstants {
    double widest_m = 0.0;            ///< diameter of the root's widest place
    double cylinder_of_root = 0.0;    ///< the crown's cylinder over the correctly topped root
    double above_correct_scar = 0.0;  ///< crown_above_scar() of the correct scar
};

template <class Get>
ScarConstants scar_constants(Get&& get) {
    using enum ConstantId;
    // Roots are of one shape whatever their size, so any volume gives the crown's share of it.
    const Volume volume(get(root_volume));
    const double height = get(topping_crown_height);
    const RootShape root = shape_of(volume, get(root_cone_angle), kWholeTailRadius, height);
    const Crown crown = crown_of(root, height);
    const double widest_m = get(topping_widest);
    return {.widest_m = widest_m,
            .cylinder_of_root =
                std::numbers::pi * (crown.radius * crown.radius * crown.height) / volume,
            .above_correct_scar = crown_above_scar(get(topping_correct_scar) / widest_m)};
}

/// Mean share lost by beets whose scars give this mean of crown_above_scar(); the same as
/// over_topping_loss_of_scar() of one beet, for many.
inline double over_topping_loss_of_scars(double above_scars, const ScarConstants& constants) {
    return std::clamp(constants.cylinder_of_root * (above_scars - constants.above_correct_scar),
                      0.0, kLargestOverTopping);
}

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
