#include "pile/lump.hpp"

#include <algorithm>

#include "base/contract.hpp"

namespace beetwright::pile {
namespace {

constexpr double kRotScale = 100.0;  ///< [°C·d], the unit that rot constants are given in

/// The mean of (theta - onset)+ as theta grows evenly from `start` by `warmth`.
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

/// Walks along a history, one steady stretch after another.
class Walk {
 public:
    explicit Walk(const LumpConstants& constants)
        : c_(constants), log_q_(0.1 * std::log(constants.q10)) {}

    void stay(double celsius, double days) {
        const double warmth = std::max(0.0, celsius) * days;
        const double mean_unhealed = heal(warmth);
        if (celsius < c_.freezing_C) {
            worst_damage_ = std::max(worst_damage_, frost_damage(celsius, c_));
        }
        if (celsius > c_.frozen_C) {
            // basal_rate, with the logarithm of Q10 taken once for the whole history.
            const double breathed = c_.basal_at_5C * std::exp(log_q_ * (celsius - 5.0)) * days;
            const double rot = mean_excess(sum_.thermal_time, warmth, c_.rot_onset) / kRotScale;
            sum_.breathing += breathed;
            sum_.healing += breathed * mean_unhealed;
            sum_.rotting += breathed * rot;
            // Damage shows on thawing; while it freezes, the beet keeps.
            sum_.thawed += celsius > 0.0 ? breathed * worst_damage_ : 0.0;
        }
        sum_.thermal_time += warmth;
    }

    [[nodiscard]] const Exposure& sum() const { return sum_; }

 private:
    /// Heals by this much warmth; the mean of exp(-theta/theta_w) meanwhile, which is its fall over
    /// its length because theta grows evenly.
    double heal(double warmth) {
        const double x = warmth / c_.healing_time;
        const double fall = -std::expm1(-x);
        const double mean = x > 1e-8 ? unhealed_ * fall / x : unhealed_;
        unhealed_ -= unhealed_ * fall;
        return mean;
    }

    const LumpConstants& c_;
    double log_q_;
    Exposure sum_;
    double worst_damage_ = 0.0;
    double unhealed_ = 1.0;  ///< exp(-theta/theta_w)
};

}  // namespace

Exposure exposure(std::span<const double> celsius, const LumpConstants& constants,
                  const TimeSteps& steps) {
    require(steps.days > 0.0 && steps.last_share >= 0.0 && steps.last_share <= 1.0,
            "steps have a length, and the last one is not longer");
    Walk walk(constants);
    for (std::size_t i = 0; i < celsius.size(); ++i) {
        const bool is_last = i + 1 == celsius.size();
        walk.stay(celsius[i], is_last ? steps.days * steps.last_share : steps.days);
    }
    return walk.sum();
}

void exposures(std::span<const double> daily_celsius, const LumpConstants& constants,
               std::span<const std::size_t> days, std::span<Exposure> after) {
    require(days.size() == after.size() && std::ranges::is_sorted(days) &&
                (days.empty() || days.back() <= daily_celsius.size()),
            "days rise, within the temperatures");
    Walk walk(constants);
    std::size_t day = 0;
    for (std::size_t k = 0; k < days.size(); ++k) {
        for (; day < days[k]; ++day) {
            walk.stay(daily_celsius[day], 1.0);
        }
        after[k] = walk.sum();
    }
}

}  // namespace beetwright::pile
