// What settings and conditions mean to a beet on its way, in the terms of physics that the response
// is linear in: how far short of the needed depth the shares go, how fast turbines turn for what
// flows through them.
//
// docs/methods/harvester_response.md.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "base/quantity.hpp"
#include "base/result.hpp"
#include "harvester/machine.hpp"
#include "harvester/response.hpp"
#include "harvester/settings.hpp"
#include "harvester/topping.hpp"

namespace beetwright::harvester {

/// Terms are zero at what the catalogue's constants are said at: crumbly soil, shares at the depth
/// needed, 5 km/h, everything that turns as fast as the flow wants.
enum class Term : std::uint8_t {
    one,
    shallow,             ///< [m] depth needed less depth of the shares
    hard,                ///< 1 in hard soil
    faster,              ///< [m/s] of the lifting pass, over 5 km/h
    rushing,             ///< square of each km/h over 6
    turbines_thin,       ///< see thinness(); turbines, or axial rolls
    turbines,            ///< ln of their speed over usual
    rolls_thin,          ///< the same of the roller bed
    tined,               ///< share of the guards
    reversed,            ///< the last roll
    gap_over_root,       ///< ln of the rolls' gap over the diameter of a root
    bed_height,          ///< [m] over 60 mm
    guard_height,        ///< [m] mean clearance over 60 mm
    root_mass,           ///< ln of the mean mass over 0.8 kg
    drop,                ///< ln of the unloading drop over 1 m
    wet,                 ///< 1 in sticky soil
    deep_by_wet,         ///< [m] deeper than needed, three times that in sticky soil
    turbines_over_flow,  ///< ln of their speed over what the flow wants
    rolls_in_wet,    ///< ln of their speed over what the flow wants; a fifth of it in crumbly soil
    cleaning_power,  ///< speed over usual and flow over usual flow, turbines and rolls alike, less
                     ///< 1; less of that in hard soil
    tined_in_wet,
    guards_high_in_wet,  ///< [m], under tined guards
    bed_high_in_wet,     ///< [m]
    gap_in_wet,          ///< ln of the gap over 40 mm
    reversed_in_wet,
    deep_by_hard,    ///< [m] deeper than needed; a third of it in crumbly soil
    gap,             ///< ln of the gap over 40 mm
    limp,            ///< share of the leaf that is dead or frozen
    rotor,           ///< ln of the leaf remover's rotor over 850 rpm
    rotor_on_leaf,   ///< the same; over 850 rpm, where sound leaf is off, times the share limp
    tuft,            ///< [m] the mean tuft's height over 4 cm
    topping_faster,  ///< [m/s] of the topping pass, over 5 km/h
};
inline constexpr std::size_t kTerms = 32;

struct Situation {
    std::array<double, kTerms> terms{};
    CrownStand crowns;
    ToppingSettings topping;
    RootCondition roots;
    CleanMassPerArea standing;
    // What the work takes.
    Length width;
    Speed lifting_speed;
    Speed usual_speed;
    double depth_over_needed_constant = 1.0;  ///< share depth / constant harvester.depth_needed
    double cleaning_effort = 1.0;             ///< mean square of speeds over usual
    double rotor_effort = 1.0;                ///< square of the rotor's speed over 850 rpm

    [[nodiscard]] double of(Term term) const { return terms[static_cast<std::size_t>(term)]; }
};

/// How much faster than the flow wants something turns: ln(speed / usual) - ln(flow / usual flow).
/// Above zero beets are few and meet it hard; below it they lie on each other. Damage goes with a
/// bend of it that is nearly zero below and a straight line above.
double thinness(double over_flow);

/// Problems: those of check(), conditions that no field has (no beets, no mass, spreads below
/// zero), and a machine without a needed control.
Result<Situation> situation(const Machine& machine, const Settings& settings,
                            const Conditions& conditions, const Catalogue& catalogue);

}  // namespace beetwright::harvester
