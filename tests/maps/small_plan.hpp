// An invented field of two pieces with two zones, for tests of what goes out to terminals.
#pragma once

#include <vector>

#include "maps/zone_plan.hpp"

namespace beetwright::maps {

inline PlannedControl set(harvester::ControlKind kind, double value, int place = 0) {
    harvester::Control control;
    control.kind = kind;
    control.place = place;
    return {control, value};
}

/// The corners of a rectangle, as an outer ring goes.
inline ground::Ring rectangle(double south, double west, double north, double east) {
    return {{south, west}, {south, east}, {north, east}, {north, west}};
}

/// As a hole goes.
inline ground::Ring hole(double south, double west, double north, double east) {
    return {{south, west}, {north, west}, {north, east}, {south, east}};
}

/// Zone 1 is the south of a field of some 130 m by 220 m, with a pond in it; zone 2 is the north,
/// and a piece beyond a road.
inline ZonePlan small_plan() {
    using enum harvester::ControlKind;
    ZonePlan plan;
    plan.season = "Autumn 2031";
    plan.field = "Long Acre & \"Mill\" <east>";
    const auto pond = hole(53.1002, 8.2005, 53.1004, 8.2008);
    plan.boundary = {{rectangle(53.1, 8.2, 53.102, 8.202), {pond}},
                     {rectangle(53.1, 8.2025, 53.102, 8.203), {}}};
    plan.zones = {
        {1,
         "low wet ground",
         {{rectangle(53.1, 8.2, 53.101, 8.202), {pond}}},
         {set(forward_speed, 5.0 / 3.6), set(leaf_remover_height, 0.090)}},
        {2,
         "knoll",
         {{{{53.101, 8.2}, {53.101, 8.202}, {53.102, 8.202}, {53.102, 8.200123457}}, {}},
          {rectangle(53.1, 8.2025, 53.102, 8.203), {}}},
         {set(forward_speed, 6.5 / 3.6), set(leaf_remover_height, 0.085)}},
    };
    return plan;
}

}  // namespace beetwright::maps
