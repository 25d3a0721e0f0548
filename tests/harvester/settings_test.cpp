// Settings against the machine they are for.
#include "harvester/settings.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace beetwright::harvester {
namespace {

const Machine kMachine = ready_made(MachineKind::six_row_turbines);

std::string said(const Settings& settings, const Machine& machine = kMachine) {
    std::string text;
    for (const auto& problem : check(settings, machine)) {
        text += (text.empty() ? "" : "\n") + problem.text();
    }
    return text;
}
std::string said_with(const char* id, double value) {
    auto settings = usual_settings(kMachine);
    settings.values[id] = value;
    return said(settings);
}

TEST(Settings, UsualOnesAreRight) {
    for (const auto kind : {MachineKind::six_row_turbines, MachineKind::six_row_axial_rolls,
                            MachineKind::two_stage}) {
        const auto machine = ready_made(kind);
        EXPECT_EQ(said(usual_settings(machine), machine), "") << words(kind);
        EXPECT_EQ(usual_settings(machine).values.size(), machine.controls.size());
    }
}

TEST(Settings, EndsOfARangeAreWithinIt) {
    for (const auto& control : kMachine.controls) {
        if (control.kind == ControlKind::leaf_remover_height ||
            control.kind == ControlKind::follower_lowest) {
            continue;  // their ends do not go together
        }
        EXPECT_EQ(said_with(control.id().c_str(), control.least), "") << control.id();
        EXPECT_EQ(said_with(control.id().c_str(), control.most), "") << control.id();
        EXPECT_NE(said_with(control.id().c_str(), control.least - control.step), "");
        EXPECT_NE(said_with(control.id().c_str(), control.most + control.step), "");
    }
    // 4.7244 in are 120 mm, but for the last digit of a double.
    EXPECT_EQ(said_with("share.depth", 4.724409448818898 * 0.0254), "");
}

TEST(Settings, OutsideTheMachineSayWhatItCan) {
    EXPECT_EQ(said_with("share.depth", 0.3),
              "share.depth: 300 mm is outside what this machine can. it goes from 50 mm to 120 mm");
    EXPECT_EQ(said_with("leaf_remover.speed", 1300.0 / 60.0),
              "leaf_remover.speed: 1300 rpm is outside what this machine can. it goes from 600 rpm "
              "to 1200 rpm");
    EXPECT_EQ(said_with("turbine_2.guard", 2.0),
              "turbine_2.guard: 2 is none of its choices. choose closed or tined");
    EXPECT_EQ(said_with("roller_bed.last_reversed", 0.5),
              "roller_bed.last_reversed: 0.5 is none of its choices. choose off or on");
    EXPECT_EQ(said_with("turbine_2.speed", std::nan("")),
              "turbine_2.speed: this is not a number. give the speed of turbine 2");
    EXPECT_EQ(said_with("share.gap", INFINITY),
              "share.gap: this is not a number. give the gap between a row's shares");
}

TEST(Settings, OfAnotherMachineAreNamed) {
    EXPECT_EQ(said_with("turbine_4.guard", 1.0),
              "turbine_4.guard: this machine has no guard of turbine 4. it has 3, up to "
              "turbine_3.guard");
    EXPECT_EQ(said_with("axial_rolls.speed", 4.0),
              "axial_rolls.speed: this machine has no axial rolls. leave it out");
    EXPECT_EQ(said_with("share_1.depth", 0.07),
              "share_1.depth: this machine has no depth of the shares, number 1. name it "
              "share.depth");
    EXPECT_EQ(said_with("turbine_1.sped", 0.5),
              "turbine_1.sped: no control has this name. did you mean \"turbine_1.speed\"? the "
              "machine lists its controls");
    auto no_guards = kMachine;
    std::erase_if(no_guards.controls,
                  [](const Control& c) { return c.kind == ControlKind::turbine_guard; });
    auto settings = usual_settings(no_guards);
    settings.values["turbine_1.guard"] = 1.0;
    EXPECT_EQ(
        said(settings, no_guards),
        "turbine_1.guard: on this machine this cannot be set: guard of turbine. leave it out");
}

TEST(Settings, MissingOnesAreAskedFor) {
    auto settings = usual_settings(kMachine);
    settings.values.erase("turbine_3.clearance");
    EXPECT_EQ(said(settings),
              "turbine_3.clearance: it has no value. give the clearance under the guard of turbine "
              "3; usual is 60 mm");
    EXPECT_EQ(check(Settings{}, kMachine).size(), kMachine.controls.size());
}

TEST(Settings, FollowerComesBelowTheLeafRemover) {
    auto settings = usual_settings(kMachine);
    settings.values["leaf_remover.height"] = 0.05;
    settings.values["follower.lowest"] = 0.05;
    EXPECT_EQ(
        said(settings),
        "follower.lowest: 50 mm is not below the leaf remover, 50 mm: the knife would meet no "
        "crown. let the follower lower, or raise the leaf remover");
    settings.values["follower.lowest"] = 0.045;
    EXPECT_EQ(said(settings), "");
}

// Whatever is wrong with one control, nothing is said of the others, and all is said at once.
TEST(Settings, ProblemsDoNotHideEachOther) {
    auto settings = usual_settings(kMachine);
    settings.values["share.depth"] = 1.0;
    settings.values["share.gap"] = 1.0;
    settings.values["what"] = 1.0;
    settings.values.erase("bunker.drop");
    const auto problems = check(settings, kMachine);
    ASSERT_EQ(problems.size(), 4U);
    EXPECT_EQ(problems[0].where.field, "share.depth");
    EXPECT_EQ(problems[1].where.field, "share.gap");
    EXPECT_EQ(problems[2].where.field, "what");
    EXPECT_EQ(problems[3].where.field, "bunker.drop");
    EXPECT_EQ(problems[3].kind, ProblemKind::missing);
}

}  // namespace
}  // namespace beetwright::harvester
