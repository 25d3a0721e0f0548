#include "beet/tip.hpp"

#include <numbers>

namespace beetwright::beet {
namespace {

/// How far beyond its lower end the open class of the largest breaks is taken to reach on average.
constexpr Length kOpenClassReach{0.01};

}  // namespace

Length representative_diameter(Length from, Length to) {
    if (!std::isfinite(to.si())) {
        return from + kOpenClassReach;
    }
    return 0.5 * (from + to);
}

Volume cone_tip_volume(Length diameter, double full_angle_rad) {
    return (std::numbers::pi / 24.0 / std::tan(0.5 * full_angle_rad)) *
           (diameter * diameter * diameter);
}

Length cone_tip_length(Length diameter, double full_angle_rad) {
    return diameter / (2.0 * std::tan(0.5 * full_angle_rad));
}

}  // namespace beetwright::beet
