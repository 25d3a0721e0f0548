// What comes out of a harvester, stage by stage, and what it depends on besides the settings.
//
// The words and units that models and whoever asks them speak in. An outcome is one draw of the
// models' constants; people see estimates over many draws. Shares are of the beets that stood
// before the machine, unless they say otherwise, and 0 to 1. docs/methods/harvester_response.md.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>

#include "base/quantity.hpp"
#include "harvester/topping.hpp"

namespace beetwright::harvester {

inline constexpr double kNotKnown = std::numeric_limits<double>::quiet_NaN();

using AreaRate = Quantity<Dim{.length = 2, .time = -1}>;
/// People say kilograms per tonne, or per cent.
using SoilPerBeet = Quantity<Dim{.mass = 1, .clean = -1}>;
/// A volume over an area; people say litres per hectare.
using VolumePerArea = Quantity<Dim{.length = 1}>;

// --- What it depends on --------------------------------------------------------------------------

/// What soil is like in the hand. The weather's room reckons it from rain and clay; rooms do not
/// know each other, so whoever joins them says it here.
enum class SoilFeel : std::uint8_t {
    hard,     ///< breaks into clods, and holds tails fast
    crumbly,  ///< falls off roots
    plastic,  ///< can be kneaded, and smears
    sticky,   ///< clings to roots and steel
};

struct SoilCondition {
    SoilFeel feel = SoilFeel::crumbly;
    double moisture = kNotKnown;  ///< [m3 water/m3 soil] of the depth that is lifted from
    double clay = kNotKnown;      ///< [kg/kg] of dry soil
};

struct LeafCondition {
    MassPerArea fresh_mass;           ///< of leaf and stalks, standing
    double dead_share = kNotKnown;    ///< of the leaf, by disease or drought
    double frozen_share = kNotKnown;  ///< of the leaf, by frost: limp, and slow to leave the crown
};

/// The beets that stand, by their number, size and hold.
struct RootCondition {
    BeetsPerArea beets;
    CleanMass mean_mass;             ///< of one beet
    double mass_spread = kNotKnown;  ///< coefficient of variation from beet to beet
    double forked_share = kNotKnown;
};

struct Conditions {
    CrownStand crowns;
    RootCondition roots;
    LeafCondition leaf;
    SoilCondition soil;

    /// Clean beet that stands, per area: what has to go through the machine.
    [[nodiscard]] CleanMassPerArea standing() const { return roots.beets * roots.mean_mass; }
};

// --- What comes out ------------------------------------------------------------------------------

struct ToppingOutcome {
    ToppingShares shares;
    double stalks_over_2cm = kNotKnown;  ///< leaf stalks longer than 2 cm left
    Length over_topped;                  ///< mean depth below what is right, of beets cut too deep
    double slanted = kNotKnown;          ///< of beets that the knife met
    double knocked_out = kNotKnown;      ///< struck out of the row, and lost before lifting
};

/// Limits of the classes of breaks by diameter, from memory: no source had them. Under 2 cm a tail
/// counts as whole in the Netherlands (groenkennisnet [V]).
inline constexpr std::array kBreakLimits{2.0 * unit::cm, 4.0 * unit::cm, 6.0 * unit::cm,
                                         8.0 * unit::cm};
inline constexpr std::size_t kBreakClasses = kBreakLimits.size() + 1;

/// Where a broken tail is left; it tells which stage broke it.
enum class TailLies : std::uint8_t {
    in_the_soil,     ///< behind the shares, and must be dug for
    on_the_ground,   ///< under roller bed and cleaning
    with_the_beets,  ///< in the bunker: broken, not lost
};
inline constexpr std::size_t kTailPlaces = 3;

using SharesOfBreaks = std::array<double, kBreakClasses>;

struct TailOutcome {
    /// Beets whose tail broke at a diameter of this class and lies in this place. What is missing
    /// to 1 over all are whole tails.
    std::array<SharesOfBreaks, kTailPlaces> share = not_known();

    /// Tails that broke at this class's diameters or wider, wherever they lie.
    [[nodiscard]] double broken_from(std::size_t break_class) const {
        double sum = 0.0;
        for (const SharesOfBreaks& place : share) {
            for (std::size_t c = break_class; c < kBreakClasses; ++c) {
                sum += place[c];
            }
        }
        return sum;
    }

 private:
    static constexpr std::array<SharesOfBreaks, kTailPlaces> not_known() {
        std::array<SharesOfBreaks, kTailPlaces> shares{};
        for (SharesOfBreaks& place : shares) {
            place.fill(kNotKnown);
        }
        return shares;
    }
};

/// Whole beets that do not reach the bunker, besides those knocked out by the topper.
struct WholeRootOutcome {
    double unlifted = kNotKnown;              ///< passed by the shares, still in the soil
    double lost_before_cleaning = kNotKnown;  ///< through roller bed and transfer
    /// Between guards and turbines, or between axial rolls.
    double lost_through_guards = kNotKnown;
    CleanMassPerArea mass;  ///< of all of these, with those knocked out
};

struct CleaningOutcome {
    Area torn_skin;              ///< of one beet, mean
    double cracked = kNotKnown;  ///< beets with a crack deeper than their skin
    SoilPerBeet soil_on_beets;   ///< that sticks
    SoilPerBeet loose_soil;      ///< clods and stones
};

struct WorkOutcome {
    AreaRate area_rate;                   ///< while lifting, without turning and unloading
    double field_efficiency = kNotKnown;  ///< share of the time in the field that is lifting
    VolumePerArea fuel;
};

struct Outcome {
    CleanMassPerArea standing;  ///< before the machine
    ToppingOutcome topping;
    TailOutcome tails;
    WholeRootOutcome whole_roots;
    CleaningOutcome cleaning;
    WorkOutcome work;
};

}  // namespace beetwright::harvester
