// Controls and ready-made machines: names, units, ranges, and what each rests on.
#include "harvester/control.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <set>
#include <string>

#include "base/quantity.hpp"
#include "harvester/machine.hpp"

namespace beetwright::harvester {
namespace {

constexpr MachineKind kKinds[] = {MachineKind::six_row_turbines, MachineKind::six_row_axial_rolls,
                                  MachineKind::two_stage};

TEST(Controls, StandInTheOrderOfTheirKindsAndStages) {
    std::set<std::string_view> ids;
    Stage stage = Stage::driving;
    for (std::size_t k = 0; k < control_kinds().size(); ++k) {
        const auto& of = control_kinds()[k];
        EXPECT_EQ(of.kind, static_cast<ControlKind>(k)) << of.id;
        EXPECT_TRUE(ids.insert(of.id).second) << of.id;
        EXPECT_GE(of.stage, stage) << of.id;
        stage = of.stage;
        EXPECT_EQ(of.is_choice(), of.unit_kind() == UnitKind::number) << of.id;
        EXPECT_FALSE(words(of.stage).empty()) << of.id;
    }
    EXPECT_EQ(traits(ControlKind::unloading_drop).id, control_kinds().back().id);
}

TEST(Controls, AreFoundByTheirNamesAndByNothingElse) {
    for (const auto& of : control_kinds()) {
        for (const int place : {0, 1, 12}) {
            Control control;
            control.kind = of.kind;
            control.place = place;
            EXPECT_EQ(find_control_kind(control.id()), (NamedControl{of.kind, place}))
                << control.id();
        }
    }
    for (const auto* id : {"", ".", "_", "turbine", "turbine_.speed", "turbine_0.speed",
                           "turbine_-1.speed", "turbine_2x.speed", "turbine_2_2.speed",
                           "turbine_99999999999.speed", "speed.turbine", "Turbine.speed"}) {
        EXPECT_FALSE(find_control_kind(id).has_value()) << id;
    }
}

TEST(Controls, AreWrittenInPeoplesUnits) {
    const auto machine = ready_made(MachineKind::six_row_turbines);
    EXPECT_EQ(machine.find("leaf_remover.speed")->text(800.0 / 60.0), "800 rpm");
    EXPECT_EQ(machine.find("share.depth")->text(0.0725), "72.5 mm");
    EXPECT_EQ(machine.find("driving.speed")->text(5.0 / 3.6), "5 km/h");
    EXPECT_EQ(machine.find("turbine_3.guard")->text(1.0), "tined");
    EXPECT_EQ(machine.find("turbine_3.guard")->text(static_cast<double>(Guard::closed)), "closed");
    EXPECT_EQ(machine.find("turbine_3.guard")->text(0.5), "0.5");
    EXPECT_EQ(machine.find("roller_bed.last_reversed")->text(0.0), "off");
    EXPECT_EQ(machine.find("turbine_3.clearance")->words(),
              "clearance under the guard of turbine 3");
    EXPECT_EQ(ready_made(MachineKind::two_stage).find("driving_2.speed")->words(),
              "forward speed of pass 2");
}

TEST(Machines, ReadyMadeOnesAreInOrder) {
    for (const auto kind : kKinds) {
        const auto machine = ready_made(kind);
        EXPECT_TRUE(problems_of(machine).empty()) << words(kind);
        Stage stage = Stage::driving;
        for (const auto& control : machine.controls) {
            EXPECT_GE(traits(control.kind).stage, stage) << control.id();
            stage = traits(control.kind).stage;
            EXPECT_EQ(machine.find(control.id()), &control) << control.id();
        }
    }
}

// As tests/base/catalogue_test.cpp asks of the catalogue.
TEST(Machines, SayWhatTheirRangesRestOn) {
    for (const auto kind : kKinds) {
        for (const auto& control : ready_made(kind).controls) {
            const char* tag = control.how == HowKnown::assumed           ? "assumed"
                              : control.how == HowKnown::from_memory     ? "[M]"
                              : control.how == HowKnown::common_practice ? "no source"
                                                                         : "[V]";
            EXPECT_NE(control.source.find(tag), std::string::npos)
                << control.id() << ": " << control.source;
        }
    }
}

TEST(Machines, HaveTheStagesOfTheirKind) {
    const auto turbines = ready_made(MachineKind::six_row_turbines);
    const auto rolls = ready_made(MachineKind::six_row_axial_rolls);
    const auto two = ready_made(MachineKind::two_stage);
    EXPECT_EQ(turbines.count(ControlKind::turbine_speed), 3);
    EXPECT_FALSE(turbines.has(Stage::axial_rolls));
    EXPECT_TRUE(rolls.has(Stage::axial_rolls));
    EXPECT_FALSE(rolls.has(Stage::turbines));
    EXPECT_EQ(two.count(ControlKind::forward_speed), 2);
    EXPECT_FALSE(two.has(Stage::turbines) || two.has(Stage::axial_rolls));
    for (const auto stage : {Stage::leaf_remover, Stage::scalper, Stage::lifting_shares,
                             Stage::roller_bed, Stage::transfer, Stage::bunker}) {
        EXPECT_TRUE(turbines.has(stage) && rolls.has(stage) && two.has(stage)) << words(stage);
    }
}

// Settings that were published must be possible on a ready-made machine.
TEST(Machines, ReachWhatWasTried) {
    const auto machine = ready_made(MachineKind::six_row_turbines);
    const auto reaches = [&](const char* id, Length value) {
        return machine.find(id)->is_within(value.si());
    };
    for (const double kmh : {1.2, 6.5, 3.5, 5.5, 5.0, 7.0}) {  // Ivancan 2002; Sugar Industry 20668
        EXPECT_TRUE(machine.find("driving.speed")->is_within(kmh / 3.6)) << kmh;
    }
    EXPECT_TRUE(reaches("share.gap", 4.0 * unit::cm));      // IRBAB
    EXPECT_TRUE(reaches("share.gap", 1.5 * unit::inch));    // Ag Note 445
    EXPECT_TRUE(reaches("share.gap", 1.75 * unit::inch));   // the same
    EXPECT_TRUE(reaches("share.depth", 2.5 * unit::inch));  // Ag Note 474
    EXPECT_TRUE(reaches("share.depth", 3.0 * unit::inch));  // the same
    EXPECT_TRUE(reaches("bunker.drop", 8.0 * unit::foot));  // Farmers Weekly 1995
    EXPECT_TRUE(reaches("bunker.drop", 16.0 * unit::foot));
}

std::string only_problem(const Machine& machine) {
    const auto problems = problems_of(machine);
    EXPECT_EQ(problems.size(), 1U);
    return problems.empty() ? "" : problems.front().text();
}

TEST(Machines, OfOnesOwnAreLookedThrough) {
    const auto good = ready_made(MachineKind::six_row_turbines);
    auto twice = good;
    twice.controls.push_back(*good.find("share.depth"));
    EXPECT_EQ(only_problem(twice),
              "share.depth: it stands twice. give one of them another place, or take it out");
    auto bare_guard = good;
    bare_guard.controls.push_back(*good.find("turbine_1.guard"));
    bare_guard.controls.back().place = 4;
    EXPECT_EQ(only_problem(bare_guard),
              "turbine_4.guard: there is no turbine for this guard. add turbine_4.speed, or take "
              "the guard out");
    const auto with = [&](const char* id, auto&& change) {
        auto machine = good;
        for (auto& control : machine.controls) {
            if (control.id() == id) {
                change(control);
            }
        }
        return only_problem(machine);
    };
    EXPECT_EQ(with("share.depth", [](Control& c) { c.least = 0.2; }),
              "share.depth: its least, 200 mm, is not below its most, 120 mm. give the lower end "
              "first");
    EXPECT_EQ(with("share.depth", [](Control& c) { c.step = 0.0; }),
              "share.depth: a step of 0 mm cannot be. give the smallest change that is made, over "
              "0 and within the range");
    EXPECT_EQ(with("share.depth", [](Control& c) { c.usual = 0.3; }),
              "share.depth: its usual value, 300 mm, is outside its range. give one from 50 mm to "
              "120 mm");
    EXPECT_EQ(with("share.depth", [](Control& c) { c.most = std::nan(""); }),
              "share.depth: a number of its range is not one. give least, most, step and usual "
              "value");
    EXPECT_EQ(with("turbine_1.guard", [](Control& c) { c.most = 2.0; }),
              "turbine_1.guard: its choices have no other range. give 0 to 1 in steps of 1, or "
              "leave the control out");
    EXPECT_EQ(with("bunker.drop", [](Control& c) { c.place = -1; }),
              "bunker.drop: its place is below 0. number from 1, or 0 where there is one");
    auto no_rows = good;
    no_rows.rows = 0;
    EXPECT_EQ(only_problem(no_rows),
              "rows: 0 rows cannot be. give the rows lifted at once, 1 to 24");
    EXPECT_EQ(only_problem(Machine{}),
              "controls: the machine has none. list what can be set on it");
}

}  // namespace
}  // namespace beetwright::harvester
