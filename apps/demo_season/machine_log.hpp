// What the demo season's owners and crews say of their machines.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "check/machine_log.hpp"
#include "demo_season/look.hpp"
#include "demo_season/reading.hpp"
#include "ledger/machine.hpp"

namespace beetwright::demo {

/// Its build, what an hour of it costs, and what was measured at its displays.
void describe(const MachinePlan& plan, const Reader& reader, ledger::Machine& machine);

/// How the machine was set when it began a field, as its driver reads the displays. In dry soil
/// turbines and rolls turn slower behind closed guards and shares go deeper; in wet soil the other
/// way round, and the machine drives slower.
check::SettingsNote observed_settings(const Look& look, const ledger::Machine& machine);

/// A control and its value in the unit that people read it in, or which of its choices.
struct SetPlan {
    std::string_view control;
    double value;
};
/// A later note in a field: these controls were set, or advised and turned down.
check::SettingsNote settings_note(const Look& look, const ledger::Machine& machine, Instant at,
                                  int number, check::Answer answer, std::span<const SetPlan> set);

/// What was renewed on the machines in the course of the season.
std::vector<check::PartChange> part_changes(std::uint64_t seed);

}  // namespace beetwright::demo
