// Ranges and usual values of machines of a kind. Few are published; each says what it rests on.
#include <array>
#include <span>

#include "base/quantity.hpp"
#include "harvester/machine.hpp"

namespace beetwright::harvester {
namespace {

using enum ControlKind;

constexpr double kMm = unit::mm.si();
constexpr double kRpm = 1.0 / 60.0;  // [rev/s]
constexpr double kKmPerHour = 1.0 / 3.6;

/// As Control, in the unit that `unit` is one of.
struct Row {
    ControlKind kind;
    double unit;
    double least, most, step, usual;
    HowKnown how;
    const char* source;
};

constexpr Row kDriving{
    forward_speed,
    kKmPerHour,
    1.0,
    10.0,
    0.1,
    5.0,
    HowKnown::assumed,
    "range assumed, trials went from 1.2 to 7 km/h (Ivancan et al. 2002, Sugar Industry 20668 "
    "[V]); 5 km/h is usual in Spain and the most for good topping in France (empresaagraria, "
    "ITB [V])"};

constexpr std::array kTopping{
    Row{leaf_remover_height, kMm, 0.0, 250.0, 5.0, 90.0, HowKnown::assumed,
        "range assumed; it leaves tufts of 2 to 3 cm and cuts no beet (IRS 8.2 [V]), which over "
        "crowns of 50 mm and the usual spread is about 90 mm, assumed"},
    Row{leaf_remover_speed, kRpm, 600.0, 1200.0, 10.0, 850.0, HowKnown::common_practice,
        "common practice, no source: 800 to 900 rpm in sound leaf, up to 1200 in limp leaf; 600 "
        "the "
        "least [M]"},
    Row{scalper_thickness, kMm, 0.0, 40.0, 1.0, 20.0, HowKnown::assumed,
        "range assumed; 20 mm is the middle of the right cuts (harvester.leaf_free_depth, "
        "harvester.right_depth) under a follower that tufts of 4 cm hold up"},
    Row{follower_load, 1.0, 50.0, 300.0, 10.0, 150.0, HowKnown::assumed,
        "range assumed; followers up to 29 kg, 284 N, go at 8 km/h (O'Dogherty 1986, J. agric. "
        "Engng Res. 34:319-333 [V])"},
    Row{follower_lowest, kMm, 0.0, 150.0, 5.0, 20.0, HowKnown::assumed,
        "range assumed; 20 mm is the lowest height of cut that was worked with (Adamchuk, "
        "Bulgakov et al. [V])"},
};

constexpr std::array kLifting{
    Row{share_depth, kMm, 50.0, 120.0, 5.0, 70.0, HowKnown::from_memory,
        "[M] shares go 5 to 12 cm deep; lifting wheels earned most at 6.4 to 7.6 cm (Red River "
        "Valley growers' Ag Note 474 [V])"},
    Row{share_gap, kMm, 30.0, 60.0, 2.0, 40.0, HowKnown::assumed,
        "range assumed; about 4 cm for roots of medium size (IRBAB [V]), 3.8 to 4.4 cm for roots "
        "of 0.41 to 0.54 kg (Ag Note 445 [V])"},
    Row{roller_bed_height, kMm, 0.0, 200.0, 10.0, 60.0, HowKnown::assumed, "assumed"},
    Row{roller_speed, kRpm, 100.0, 400.0, 10.0, 250.0, HowKnown::assumed,
        "assumed; 50 rpm less is a first step in dry soil (Ag Note 445 [V])"},
    Row{roller_gap, kMm, 20.0, 80.0, 5.0, 40.0, HowKnown::assumed, "assumed"},
    Row{last_roller_reversed, 1.0, 0.0, 1.0, 1.0, 0.0, HowKnown::assumed, "assumed: off"},
    Row{transfer_speed, 1.0, 0.5, 2.5, 0.1, 1.5, HowKnown::assumed, "assumed"},
};

constexpr std::array kOfEachTurbine{
    Row{turbine_speed, kRpm, 30.0, 90.0, 1.0, 45.0, HowKnown::assumed,
        "assumed; in dry soil this is the first to lower (ITB, IRBAB [V])"},
    Row{turbine_guard, 1.0, 0.0, 1.0, 1.0, 1.0, HowKnown::assumed,
        "assumed: tined; in dry soil guards are covered (ITB, IRBAB [V])"},
    Row{guard_clearance, kMm, 20.0, 150.0, 5.0, 60.0, HowKnown::assumed,
        "assumed; in dry soil this is the second to change (ITB, IRBAB [V])"},
};

constexpr std::array kOfAxialRolls{
    Row{axial_roll_speed, kRpm, 100.0, 400.0, 10.0, 250.0, HowKnown::assumed, "assumed"},
    Row{axial_roll_gap, kMm, 10.0, 60.0, 2.0, 25.0, HowKnown::assumed, "assumed"},
};

constexpr Row kUnloading{
    unloading_drop,
    1.0,
    0.2,
    5.0,
    0.1,
    0.5,
    HowKnown::assumed,
    "range assumed; drops of 2.44 and 4.88 m were tried (Farmers Weekly, 25 August 1995 [V]), "
    "and the conveyor goes as low as it can (IRS [V])"};

// Two-stage sets, mostly with wheels that lift.
constexpr Row kTopperSpeed{
    forward_speed,
    kKmPerHour,
    1.0,
    10.0,
    0.1,
    4.0,
    HowKnown::assumed,
    "range assumed; 2 to 3 mph (Red River Valley growers' Ag Notes [V]), at most 4 mph (MSU [V])"};
constexpr Row kLifterSpeed{
    forward_speed,
    kKmPerHour,
    1.0,
    10.0,
    0.1,
    5.5,
    HowKnown::assumed,
    "range assumed; 3 to 4 mph earned most (Red River Valley growers' Ag Notes 369, 474 [V])"};

Control control_of(const Row& row, int place) {
    return {.kind = row.kind,
            .place = place,
            .least = row.least * row.unit,
            .most = row.most * row.unit,
            .step = row.step * row.unit,
            .usual = row.usual * row.unit,
            .how = row.how,
            .source = row.source};
}

void add(Machine& machine, std::span<const Row> rows, int place = 0) {
    for (const Row& row : rows) {
        machine.controls.push_back(control_of(row, place));
    }
}

}  // namespace

Machine ready_made(MachineKind kind) {
    constexpr int kTurbines = 3;
    Machine machine{.name = std::string(words(kind)), .rows = 6, .controls = {}};
    if (kind == MachineKind::two_stage) {
        machine.controls = {control_of(kTopperSpeed, 1), control_of(kLifterSpeed, 2)};
    } else {
        machine.controls = {control_of(kDriving, 0)};
    }
    add(machine, kTopping);
    add(machine, kLifting);
    if (kind == MachineKind::six_row_turbines) {
        for (int turbine = 1; turbine <= kTurbines; ++turbine) {
            add(machine, kOfEachTurbine, turbine);
        }
    }
    if (kind == MachineKind::six_row_axial_rolls) {
        add(machine, kOfAxialRolls);
    }
    machine.controls.push_back(control_of(kUnloading, 0));
    return machine;
}

}  // namespace beetwright::harvester
