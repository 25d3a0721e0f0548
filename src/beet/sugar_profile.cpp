#include "beet/sugar_profile.hpp"

#include <algorithm>

#include "base/contract.hpp"

namespace beetwright::beet {

double sugar_along_crown(double height, double total_fall) {
    return 1.0 - total_fall * std::clamp(height, 0.0, 1.0);
}

double mean_sugar_along_crown(double from, double to, double total_fall) {
    return 0.5 * (sugar_along_crown(from, total_fall) + sugar_along_crown(to, total_fall));
}

double impurity_along_crown(double height, double top_ratio) {
    return 1.0 + (top_ratio - 1.0) * std::clamp(height, 0.0, 1.0);
}

double mean_impurity_along_crown(double from, double to, double top_ratio) {
    return 0.5 * (impurity_along_crown(from, top_ratio) + impurity_along_crown(to, top_ratio));
}

Portion joined(const Portion& one, const Portion& other) {
    const double mass = one.mass + other.mass;
    require(mass > 0.0, "parts of a root have mass");
    return {.mass = mass,
            .sugar = (one.mass * one.sugar + other.mass * other.sugar) / mass,
            .molasses = (one.mass * one.molasses + other.mass * other.molasses) / mass};
}

Portion portion_added(double mass_gain, double sugar_change, double molasses_change) {
    require(mass_gain > 0.0, "a part that is added has mass");
    const auto content = [mass_gain](double change) {
        return ((1.0 + mass_gain) * (1.0 + change) - 1.0) / mass_gain;
    };
    return {
        .mass = mass_gain, .sugar = content(sugar_change), .molasses = content(molasses_change)};
}

}  // namespace beetwright::beet
