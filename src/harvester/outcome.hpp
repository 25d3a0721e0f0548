// From predictors to what comes out: chances of breaks, shares of beets, soil, and what the work
// takes. docs/methods/harvester_response.md.
#pragma once

#include <algorithm>
#include <cmath>

#include "base/catalogue.hpp"
#include "harvester/parameter.hpp"
#include "harvester/response.hpp"
#include "harvester/situation.hpp"

namespace beetwright::harvester {

double chance_of(double log_odds);

/// Chances that lifting, and what comes after, break a tail at more than a diameter.
class Breaks {
 public:
    /// At one diameter.
    struct Over {
        double lifting, cleaning;  ///< odds

        [[nodiscard]] double by_lifting() const { return lifting / (1.0 + lifting); }
        [[nodiscard]] double by_cleaning() const { return cleaning / (1.0 + cleaning); }
        /// By either: a tail is as broken as its wider break.
        [[nodiscard]] double by_any() const {
            return 1.0 - 1.0 / ((1.0 + lifting) * (1.0 + cleaning));
        }
        /// At a larger diameter, by which both odds fall to this part.
        [[nodiscard]] Over times(double part) const { return {lifting * part, cleaning * part}; }
    };
    explicit Breaks(const Predictors& predictors);

    [[nodiscard]] Over at_all() const { return at_all_; }
    [[nodiscard]] Over over(Length diameter) const { return at_all_.times(fall(diameter)); }
    /// What the odds fall to over so much of a diameter.
    [[nodiscard]] double fall(Length by) const { return std::exp(-slope_per_m_ * by.si()); }

    [[nodiscard]] double by_lifting(Length over_it) const { return over(over_it).by_lifting(); }
    [[nodiscard]] double by_cleaning(Length over_it) const { return over(over_it).by_cleaning(); }
    [[nodiscard]] double by_any(Length over_it) const { return over(over_it).by_any(); }

 private:
    Over at_all_;
    double slope_per_m_;
};

/// What cuts leave, by geometry.
Topped topped(const Predictors& predictors, const Situation& situation);
/// The shares alone.
ToppingShares shares_of(const Predictors& predictors, const Situation& situation);
/// Share of the beets that the leaf remover strikes.
double struck(const Predictors& predictors, const Situation& situation);

/// Constants that nothing is learned of.
struct WorkConstants {
    double lost_root_mass = 0.0;
    double field_efficiency = 0.0;
    double fuel_running = 0.0;   ///< [m3/s]
    double fuel_draft = 0.0;     ///< [m3/m2]
    double fuel_cleaning = 0.0;  ///< [m3/m2]
    double fuel_rotor = 0.0;     ///< [m3/m2]
};
template <class Get>
WorkConstants work_constants(Get&& get) {
    using enum ConstantId;
    return {.lost_root_mass = get(harvester_lost_root_mass),
            .field_efficiency = get(harvester_field_efficiency),
            .fuel_running = get(harvester_fuel_running),
            .fuel_draft = get(harvester_fuel_draft),
            .fuel_cleaning = get(harvester_fuel_cleaning),
            .fuel_rotor = get(harvester_fuel_rotor)};
}

/// One draw of everything that comes out.
Outcome outcome(const Predictors& predictors, const Situation& situation,
                const WorkConstants& constants);
/// The same where the topping is known already.
Outcome outcome(const Predictors& predictors, const Situation& situation,
                const WorkConstants& constants, const Topped& topped);

}  // namespace beetwright::harvester
