// From predictors to what comes out: chances of breaks, shares of beets, soil, and what the work
// takes. docs/methods/harvester_response.md.
#pragma once

#include "base/catalogue.hpp"
#include "harvester/parameter.hpp"
#include "harvester/response.hpp"
#include "harvester/situation.hpp"

namespace beetwright::harvester {

double chance_of(double log_odds);

/// Chances that lifting, and what comes after, break a tail at more than a diameter.
class Breaks {
 public:
    explicit Breaks(const Predictors& predictors);

    [[nodiscard]] double by_lifting(Length over) const { return chance(lifting_, over); }
    [[nodiscard]] double by_cleaning(Length over) const { return chance(cleaning_, over); }
    /// By either: a tail is as broken as its wider break.
    [[nodiscard]] double by_any(Length over) const {
        return 1.0 - (1.0 - by_lifting(over)) * (1.0 - by_cleaning(over));
    }

 private:
    [[nodiscard]] double chance(double log_odds, Length over) const {
        return chance_of(log_odds - slope_per_m_ * over.si());
    }
    double lifting_, cleaning_, slope_per_m_;
};

/// What cuts leave, by geometry.
struct Topped {
    ToppingShares shares;
    Length mean_excess;  ///< of all beets, below what is right
};
Topped topped(const Predictors& predictors, const Situation& situation);
/// The shares alone.
ToppingShares shares_of(const Predictors& predictors, const Situation& situation);

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
