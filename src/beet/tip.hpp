// The mass that goes with a broken tail, from the diameter of the break.
//
//     loss(d) = L5 (d / 5 cm)^b        share of the whole root's mass
//
// Three published tables agree on this to about a quarter (docs/methods/tip.md). L5 and b are
// centred on 5 cm, so that they can be drawn independently of each other.
#pragma once

#include <algorithm>
#include <cmath>

#include "base/catalogue.hpp"
#include "base/quantity.hpp"

namespace beetwright::beet {

inline constexpr double kReferenceBreak_m = 0.05;
/// A root that broke is still a root: no break takes more than this share.
inline constexpr double kLargestTipLoss = 0.6;

struct TipConstants {
    double loss_at_5cm = 0.0;
    double exponent = 0.0;
};

/// The constants of one draw; get(ConstantId) gives a constant's SI value in that draw.
template <class Get>
TipConstants tip_constants(Get&& get) {
    return {get(ConstantId::tip_loss_at_5cm), get(ConstantId::tip_exponent)};
}

/// Share of the whole root's mass lost by a break of this diameter [m] in a root of usual size.
inline double tip_loss(double diameter_m, const TipConstants& constants) {
    const double loss =
        constants.loss_at_5cm * std::pow(diameter_m / kReferenceBreak_m, constants.exponent);
    return std::min(loss, kLargestTipLoss);
}
inline double tip_loss(Length diameter, const TipConstants& constants) {
    return tip_loss(diameter.si(), constants);
}

/// The same for a root of another mass: a break counts by its diameter against the root's size,
/// which goes with the cube root of the mass.
inline double tip_loss_of_root(double diameter_m, CleanMass root, CleanMass usual_root,
                               const TipConstants& constants) {
    return tip_loss(diameter_m / std::cbrt(root / usual_root), constants);
}

/// One diameter that stands for a break known to lie in [from, to]: the middle of a class; for a
/// class without an upper end, a little over its lower end.
Length representative_diameter(Length from, Length to);

/// The tip as a cone of the given full angle: its volume and length.
Volume cone_tip_volume(Length diameter, double full_angle_rad);
Length cone_tip_length(Length diameter, double full_angle_rad);

}  // namespace beetwright::beet
