// One load of beet as one lump: the sugar it loses over days at a series of temperatures.
//
// The rate of loss, per clean beet, with T the temperature and theta the thermal time since lifting
// (degree-days above 0 °C):
//
//     r = r5 Q10^((T - 5)/10) [ 1 + A w exp(-theta/theta_w) + a_leaf leaf + a_soil soil + ...
//                               + (rot_sound + rot_wound w) (theta - theta_0)+ / 100 °C·d ]
//
// with w the wounded share of the surface. The integrals over the beet's days do not depend on the
// beet, so they are worked out once for all beets with the same history (Exposure); what is left
// per beet is a few products. docs/methods/lump.md.
#pragma once

#include <cmath>
#include <cstddef>
#include <span>

#include "base/catalogue.hpp"
#include "base/quantity.hpp"

namespace beetwright::pile {

/// The constants of one draw. Rates in kg sugar / kg clean beet / day, thermal times in °C·d.
struct LumpConstants {
    double basal_at_5C = 0.0;
    double q10 = 0.0;
    double healing_time = 0.0;   ///< theta_w: wounds breathe 1/e as much after it
    double healing_extra = 0.0;  ///< A: extra breathing per wounded share, at lifting
    double rot_onset = 0.0;      ///< theta_0
    double rot_sound = 0.0;      ///< rot without any wound, per 100 °C·d beyond the onset
    double rot_tail = 0.0;       ///< rot let in by a wounded share of each kind
    double rot_crown = 0.0;
    double rot_skin = 0.0;
    double leaf_extra = 0.0;       ///< per kg leaf / kg clean beet
    double soil_extra = 0.0;       ///< per kg soil / kg clean beet
    double rotten_extra = 0.0;     ///< extra loss of a beet that is rotten already
    double frosted_extra = 0.0;    ///< extra loss of a beet hurt by frost and thawed
    double frost_middle_C = 0.0;   ///< half of the cells are hurt at this temperature
    double frost_steepness = 0.0;  ///< [1/K]
    double freezing_C = 0.0;       ///< frost damage is counted below this
    double frozen_C = 0.0;         ///< beet does not breathe at or below this
};

template <class Get>
LumpConstants lump_constants(Get&& get) {
    using enum ConstantId;
    constexpr double kDay_s = unit::day.si();
    return {.basal_at_5C = get(storage_basal_rate) * kDay_s,
            .q10 = get(storage_q10),
            .healing_time = get(storage_healing_time) / kDay_s,
            .healing_extra = get(storage_healing_extra),
            .rot_onset = get(storage_rot_onset) / kDay_s,
            .rot_sound = get(storage_rot_sound),
            .rot_tail = get(storage_rot_wound) * get(storage_rot_entry_tail),
            .rot_crown = get(storage_rot_wound) * get(storage_rot_entry_crown),
            .rot_skin = get(storage_rot_wound),
            .leaf_extra = get(storage_leaf_extra),
            .soil_extra = get(storage_soil_extra),
            .rotten_extra = get(storage_rotten_extra),
            .frosted_extra = get(storage_frosted_extra),
            .frost_middle_C = get(storage_frost_middle) - 273.15,
            .frost_steepness = get(storage_frost_steepness),
            .freezing_C = get(storage_freezing) - 273.15,
            .frozen_C = get(storage_frozen) - 273.15};
}

/// What a history does to any beet [kg sugar / kg clean beet]: integrals of the basal rate over it,
/// alone and weighted.
struct Exposure {
    double breathing = 0.0;
    double healing = 0.0;       ///< weighted with exp(-theta/theta_w)
    double rotting = 0.0;       ///< weighted with (theta - theta_0)+ / 100 °C·d
    double thawed = 0.0;        ///< weighted with the share of cells hurt by frosts so far
    double thermal_time = 0.0;  ///< theta at the end [°C·d]
};

/// How the temperatures of a series follow each other.
struct TimeSteps {
    double days = 1.0;        ///< from one to the next; 1: daily means
    double last_share = 1.0;  ///< of the last step, 0 to 1: a load sliced at noon stays half a day
};

/// The exposure of beet held at these mean temperatures [°C] one after the other from lifting on.
Exposure exposure(std::span<const double> celsius, const LumpConstants& constants,
                  const TimeSteps& steps = {});

/// The same after each of these numbers of whole days, which rise: beet of one lifting, sliced on
/// different days. `after` has room for as many; no day lies beyond the temperatures.
void exposures(std::span<const double> daily_celsius, const LumpConstants& constants,
               std::span<const std::size_t> days, std::span<Exposure> after);

/// What sound, healed beet breathes at this temperature [kg sugar / kg clean beet / day].
inline double basal_rate(double celsius, const LumpConstants& constants) {
    return constants.basal_at_5C * std::pow(constants.q10, 0.1 * (celsius - 5.0));
}
/// The same, as a quantity.
inline SugarLossRate basal_rate(Temperature temperature, const LumpConstants& constants) {
    return SugarLossRate(basal_rate(temperature.in_celsius(), constants) / unit::day.si());
}

/// The share of cells that a temperature kills (Wyse 1978, as storage.md 3.2 fits it).
inline double frost_damage(double celsius, const LumpConstants& constants) {
    return 1.0 / (1.0 + std::exp(constants.frost_steepness * (celsius - constants.frost_middle_C)));
}

/// One load's beet. Wounds as shares of the root's surface.
struct LumpCondition {
    double tail_wound = 0.0;
    double crown_wound = 0.0;
    double skin_wound = 0.0;
    double leaf = 0.0;           ///< kg/kg clean
    double soil = 0.0;           ///< kg/kg clean
    double rotten_share = 0.0;   ///< of beets
    double frosted_share = 0.0;  ///< of beets
};

/// Sugar lost, by cause [kg sugar / kg clean beet as lifted].
struct LumpLoss {
    double breathing = 0.0;
    double tail_wounds = 0.0;
    double crown_wounds = 0.0;
    double skin_wounds = 0.0;
    double leaf_and_soil = 0.0;
    double rot_and_frost = 0.0;

    [[nodiscard]] double total() const {
        return breathing + tail_wounds + crown_wounds + skin_wounds + leaf_and_soil + rot_and_frost;
    }
};

/// The loss of beet that held `sugar_at_start` [kg/kg] when lifted. The rate is taken in proportion
/// to the sugar that is left, so never more is lost than was there; every cause is reduced alike.
inline LumpLoss lump_loss(const Exposure& e, const LumpCondition& beet, const LumpConstants& c,
                          double sugar_at_start) {
    const double healing = c.healing_extra * e.healing;
    LumpLoss loss;
    loss.breathing = e.breathing;
    loss.tail_wounds = beet.tail_wound * (healing + c.rot_tail * e.rotting);
    loss.crown_wounds = beet.crown_wound * (healing + c.rot_crown * e.rotting);
    loss.skin_wounds = beet.skin_wound * (healing + c.rot_skin * e.rotting);
    loss.leaf_and_soil = (c.leaf_extra * beet.leaf + c.soil_extra * beet.soil) * e.breathing;
    loss.rot_and_frost = c.rot_sound * e.rotting +
                         c.rotten_extra * beet.rotten_share * e.breathing +
                         c.frosted_extra * (beet.frosted_share * e.breathing + e.thawed);
    const double demand = loss.total() / sugar_at_start;
    const double met = demand > 1e-9 ? -std::expm1(-demand) / demand : 1.0;
    loss.breathing *= met;
    loss.tail_wounds *= met;
    loss.crown_wounds *= met;
    loss.skin_wounds *= met;
    loss.leaf_and_soil *= met;
    loss.rot_and_frost *= met;
    return loss;
}

}  // namespace beetwright::pile
