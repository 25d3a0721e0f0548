// The beets in each cell: what they breathe, how far they have healed, what rot and frost did.
//
// A cell's beets are a lump (lump.hpp) with a temperature of their own: each cell gathers the
// lump's exposure, so that a pile that is equally warm everywhere loses what the lump loses. Wounds
// heal by a law of their own, that knows how slowly they do in the cold; added are sprouts, invert
// sugar, and tissue that frost killed and that spoils.
// docs/methods/pile_biology.md.
#pragma once

#include <span>
#include <vector>

#include "pile/bed.hpp"

namespace beetwright::pile {

/// By cell, since it was piled. [kg/kg] is per clean beet.
struct Health {
    num::Field thermal_time;  ///< above 0 °C, since lifting [°C·d]
    num::Field unhealed;      ///< of wounds' extra breathing: exp(-healing so far)
    num::Field damage;        ///< cells killed by the hardest frost so far, 0 to 1
    num::Field left;          ///< sugar, of that piled
    num::Field breathing;     ///< the lump's Exposure [kg/kg]
    num::Field healing, rotting, thawed;
    num::Field sprouting;  ///< warmth above the base at which crowns grow again [°C·d]
    num::Field invert;     ///< gathered [kg/kg]
    num::Field spoilt;     ///< tissue killed by frost that is gone since, of all [kg/kg]

    explicit Health(const num::Box& box);
    [[nodiscard]] Exposure exposure(std::size_t cell) const {
        return {breathing[cell], healing[cell], rotting[cell], thawed[cell], thermal_time[cell]};
    }
};

/// Oxygen in the outside air [mol/mol].
inline constexpr double kOutsideOxygen = 0.2095;
/// Oxygen left [mol/mol], at this much carbon dioxide beyond the outside air's [kg/kg].
inline double oxygen_at(double carbon_dioxide) {
    constexpr double kAir_g_mol = 28.966;
    constexpr double kCarbonDioxideMole_g = 44.0095;
    const double left = kOutsideOxygen - carbon_dioxide * kAir_g_mol / kCarbonDioxideMole_g;
    return left > 0.0 ? left : 0.0;
}

/// How fast wounds heal [1/d]: as by degree-days at the middle temperature, elsewhere by a Q10 of
/// their own; no faster than at 20 °C, and not at all in frost.
inline double healing_rate(double celsius, const PileConstants& c) {
    const double at_most = celsius < 20.0 ? celsius : 20.0;
    const double at_middle = c.healing_middle_C / c.lump.healing_time;
    const double rate = at_middle * std::pow(c.healing_q10, 0.1 * (at_most - c.healing_middle_C));
    return celsius > c.lump.freezing_C ? rate : 0.0;
}

/// How open wounds are to water: they hold none back until their skin is nearly whole.
inline double open_to_water(double unhealed, double closed_at) {
    const double share = unhealed / closed_at;
    const double cube = share * share * share;
    return cube / (1.0 + cube);
}

struct BreathingStretch;

class Breathing {
 public:
    explicit Breathing(const num::Box& box);

    /// Takes up what each lot is like; new beet begins anew in `health`.
    void lay(const Bed& bed, std::span<const Lot> lots, const PileConstants& constants);
    /// The state of beet as it is piled.
    static void put(Health& health, std::size_t cell, const Lot& lot,
                    const PileConstants& constants);

    /// What beets would breathe at 5 °C in the next `days` [W by cell], when they are about
    /// `celsius` warm in them, in air with this much carbon dioxide beyond the outside air's
    /// [kg/kg]; `pace` is how many times faster than at 5 °C they breathe. Beet that is frozen
    /// through does not breathe, nor cooked beet; where oxygen is short it breathes less. For each
    /// mole of carbon dioxide given off one of oxygen is used, so the one says how much of the
    /// other is left.
    void prepare(const Health& health, std::span<const double> celsius,
                 std::span<const double> pace, std::span<const double> carbon_dioxide, double days);
    [[nodiscard]] const num::Field& at_5C_W() const { return at_5C_W_; }
    /// ln Q10 per K.
    [[nodiscard]] double growth() const { return growth_; }

    /// The days have passed, at this temperature, in which heat(W) = at_5C_W pace was given off.
    /// The sugar [kg] that spoilt in them, beside what was breathed.
    double pass(Health& health, std::span<const double> celsius, std::span<const double> pace,
                double days);

 private:
    [[nodiscard]] BreathingStretch stretch(double days) const;

    /// What a lot's beets breathe, in basal rates: steady + healing unhealed + rot excess +
    /// thawed damage + sprouting.
    const Bed* bed_ = nullptr;
    LumpConstants lump_;
    double growth_ = 0.0;
    double oxygen_half_ = 0.0, heat_full_ = 0.0, heat_end_ = 1.0;
    double invert_per_breath_ = 0.0, invert_steeper_ = 0.0, sprout_base_ = 0.0;
    num::Field steady_, healing_, rot_, thaw_, sprout_;
    num::Field per_watt_;  ///< share of the piled sugar lost per J
    num::Field at_5C_W_, full_W_;
    num::Field mean_unhealed_, stays_unhealed_, mean_rot_, breathes_, factor_;
    num::Field sugar_;   ///< as piled [kg]
    num::Field spoils_;  ///< of it, in the last stretch [kg]
    double healing_growth_ = 0.0, healing_middle_ = 0.0, healing_at_middle_ = 0.0;
    double spoil_rate_ = 0.0;
};

}  // namespace beetwright::pile
