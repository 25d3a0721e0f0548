#include "beet/topping.hpp"

#include <cmath>
#include <numbers>

namespace beetwright::beet {

Length Crown::cut_depth(Length scar_diameter) const {
    const double across = std::min(1.0, 0.5 * scar_diameter / radius);
    return (1.0 - std::sqrt(1.0 - across * across)) * height;
}

Volume Crown::volume_above(Length depth) const {
    // A half ellipsoid is a hemisphere stretched along its axis: with x = depth / height the volume
    // above is pi radius^2 height (x^2 - x^3 / 3).
    const double x = std::clamp(depth / height, 0.0, 1.0);
    return (std::numbers::pi * (x * x - x * x * x / 3.0)) * (radius * radius * height);
}

double over_topping_loss_of_scar(Length scar, Length correct_scar, const Crown& crown,
                                 Volume topped_root) {
    const Volume lost = crown.volume_above(crown.cut_depth(scar)) -
                        crown.volume_above(crown.cut_depth(correct_scar));
    return std::clamp(lost / topped_root, 0.0, kLargestOverTopping);
}

}  // namespace beetwright::beet
