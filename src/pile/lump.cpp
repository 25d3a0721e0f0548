#include "pile/lump.hpp"

#include <algorithm>

namespace beetwright::pile {
namespace {

/// Below this, beet is frozen through and does not breathe (COBRI 2013 [V]: beet freezes at about
/// -3 °C).
constexpr double kFrozen_C = -3.0;
/// Below this juice begins to freeze (17 % sucrose in 77 % water [V]); damage is counted from here
/// down.
constexpr double kFreezing_C = -1.2;
constexpr double kRotScale = 100.0;  ///< [°C·d]

/// The mean over one day of (theta - onset)+ as theta grows evenly from `start` by `warmth`.
double mean_excess(double start, double warmth, double onset) {
    const double before = start - onset;
    const double after = before + warmth;
    if (after <= 0.0) {
        return 0.0;
    }
    if (before >= 0.0) {
        return 0.5 * (before + after);
    }
    return 0.5 * after * after / warmth;
}

}  // namespace

Exposure exposure(std::span<const double> daily_celsius, const LumpConstants& c) {
    const double log_q = 0.1 * std::log(c.q10);
    Exposure sum;
    double worst_damage = 0.0;
    double unhealed = 1.0;  // exp(-theta/theta_w)
    for (const double celsius : daily_celsius) {
        const double warmth = std::max(0.0, celsius);
        // Over the day theta grows evenly, so the mean of exp(-theta/theta_w) is the fall over its
        // length.
        const double x = warmth / c.healing_time;
        const double fall = -std::expm1(-x);
        const double mean_unhealed = x > 1e-8 ? unhealed * fall / x : unhealed;
        unhealed -= unhealed * fall;
        if (celsius < kFreezing_C) {
            worst_damage = std::max(worst_damage, frost_damage(celsius, c));
        }
        if (celsius > kFrozen_C) {
            const double rate = c.basal_at_5C * std::exp(log_q * (celsius - 5.0));
            sum.breathing += rate;
            sum.healing += rate * mean_unhealed;
            sum.rotting += rate * mean_excess(sum.thermal_time, warmth, c.rot_onset) / kRotScale;
            // Damage shows on thawing; while it freezes, the beet keeps.
            sum.thawed += celsius > 0.0 ? rate * worst_damage : 0.0;
        }
        sum.thermal_time += warmth;
    }
    return sum;
}

}  // namespace beetwright::pile
