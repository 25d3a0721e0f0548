// A machine, a field and what is thought of them, for tests of response, learning and advice.
#pragma once

#include <gtest/gtest.h>

#include <utility>
#include <vector>

#include "harvester/machine.hpp"
#include "harvester/parameter.hpp"
#include "harvester/settings.hpp"
#include "harvester/situation.hpp"

namespace beetwright::harvester {

inline const Catalogue kCatalogue;
inline const Machine kMachine = ready_made(MachineKind::six_row_turbines);

/// 70 t/ha of beets of 0.8 kg in rows half a metre apart, crowns 50 mm out of the ground.
inline Conditions usual_conditions(SoilFeel feel = SoilFeel::crumbly) {
    constexpr double kBeets = 8.75;
    Conditions conditions;
    const Length sd(0.015);
    conditions.crowns = {Length(0.05), sd, step_of_strangers(sd), Length(1.0 / (kBeets * 0.5))};
    conditions.roots = {
        .beets = BeetsPerArea(kBeets), .mean_mass = CleanMass(0.8), .mass_spread = 0.45};
    conditions.leaf = {.fresh_mass = MassPerArea(4.0), .dead_share = 0.05, .frozen_share = 0.0};
    conditions.soil.feel = feel;
    return conditions;
}

using Changes = std::vector<std::pair<const char*, double>>;

inline Settings settings_with(const Changes& changes) {
    Settings settings = usual_settings(kMachine);
    for (const auto& [id, value] : changes) {
        settings.values[id] = value;
    }
    return settings;
}
inline Situation situation_of(const Changes& changes = {},
                              const Conditions& conditions = usual_conditions()) {
    const auto found = situation(kMachine, settings_with(changes), conditions, kCatalogue);
    EXPECT_TRUE(found.ok()) << (found.ok() ? "" : found.problems().front().text());
    return *found;
}

/// All three turbines at one speed [rpm].
inline Changes turbines_at(double rpm) {
    return {{"turbine_1.speed", rpm / 60.0},
            {"turbine_2.speed", rpm / 60.0},
            {"turbine_3.speed", rpm / 60.0}};
}

/// The parameters' means before anybody has looked.
inline std::vector<double> prior_means() {
    std::vector<double> values;
    for (const Parameter& parameter : parameters()) {
        values.push_back(prior(parameter, kCatalogue).mean);
    }
    return values;
}

}  // namespace beetwright::harvester
