// What owners say of their machines: build and hour_cost in machines.csv, controls.csv, dials.csv.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "io/schema_text.hpp"
#include "io/small_folder.hpp"
#include "ledger/harvester_of.hpp"
#include "season_equal.hpp"

namespace beetwright::io {
namespace {

using harvester::MachineKind;

constexpr double kRpm = 1.0 / 60.0;

constexpr const char* kMachines =
    "name,rows,build,hour_cost [money/h]\nOld Six,6,turbines,310.5\nNew Nine,9,axial_rolls,\n"
    "Topper,,,\n";

FileTexts with(const std::string& controls, const std::string& dials = "") {
    auto files = small_folder();
    files["machines.csv"] = kMachines;
    if (!controls.empty()) {
        files["controls.csv"] = controls;
    }
    if (!dials.empty()) {
        files["dials.csv"] = dials;
    }
    return files;
}

const std::string kControls =
    "machine,control,fitted,hands_off,unit,least,most,step,usual,display_step\n";
const std::string kDials = "machine,control,shown,actual,unit,measured\n";

ledger::Machine old_six(const std::string& controls, const std::string& dials = "") {
    const auto season = must_read(with(controls, dials));
    return season.machines.empty() ? ledger::Machine{} : season.machines[0];
}

TEST(Machines, SayWhatTheyAreBuiltAsAndWhatAnHourCosts) {
    const auto season = must_read(with(""));
    ASSERT_EQ(season.machines.size(), 3U);
    EXPECT_EQ(season.machines[0].build, MachineKind::six_row_turbines);
    EXPECT_NEAR(season.machines[0].hour_cost / unit::money_per_hour, 310.5, 1e-12);
    EXPECT_EQ(season.machines[1].build, MachineKind::six_row_axial_rolls);
    EXPECT_FALSE(season.machines[1].hour_cost.is_known());
    EXPECT_FALSE(season.machines[2].build.has_value());
}

TEST(Machines, TheCurrencyMayStandForMoney) {
    auto files = small_folder();
    files["machines.csv"] = "name,hour_cost [EUR/h]\nOld Six,290\n";
    EXPECT_NEAR(must_read(files).machines[0].hour_cost / unit::money_per_hour, 290.0, 1e-12);
}

TEST(Controls, SayWhatTheOwnerKnowsInTheUnitOfTheRow) {
    const auto machine = old_six(kControls +
                                 "Old Six,share.depth,yes,,cm,4.5,11,0.5,6.5,1\n"
                                 "Old Six,turbine_2.guard,,yes,,,,,closed,\n"
                                 "Old Six,driving.speed,,,mph,,4,,,\n"
                                 "Old Six,turbine_3.speed,no,,,,,,,\n");
    ASSERT_EQ(machine.controls.size(), 4U);
    const auto& depth = machine.controls[0];
    EXPECT_EQ(depth.control, "share.depth");
    EXPECT_TRUE(depth.fitted);
    EXPECT_FALSE(depth.hands_off);
    EXPECT_NEAR(depth.least, 0.045, 1e-15);
    EXPECT_NEAR(depth.most, 0.11, 1e-15);
    EXPECT_NEAR(depth.step, 0.005, 1e-15);
    EXPECT_NEAR(depth.usual, 0.065, 1e-15);
    EXPECT_EQ(depth.display_step, 1.0);
    const auto& guard = machine.controls[1];
    EXPECT_TRUE(guard.hands_off);
    EXPECT_EQ(guard.usual, static_cast<double>(harvester::Guard::closed));
    EXPECT_TRUE(std::isnan(guard.least));
    EXPECT_NEAR(machine.controls[2].most, 4.0 * 1609.344 / 3600.0, 1e-12);
    EXPECT_FALSE(machine.controls[3].fitted);
}

TEST(Controls, WithoutAUnitAreInTheirUsualOne) {
    const auto machine = old_six(
        "machine,control,most,usual\nOld Six,turbine_1.speed,70,40\n"
        "Old Six,roller_bed.last_reversed,,on\n");
    EXPECT_NEAR(machine.controls[0].most, 70.0 * kRpm, 1e-15);
    EXPECT_NEAR(machine.controls[0].usual, 40.0 * kRpm, 1e-15);
    EXPECT_EQ(machine.controls[1].usual, 1.0);
}

TEST(Dials, BindADisplayByPointsAndKeepTheDay) {
    const auto machine = old_six(kControls + "Old Six,share.depth,,,,,,,,0.5\n",
                                 kDials +
                                     "Old Six,share.depth,3,95,mm,2031-09-12\n"
                                     "Old Six,share.depth,6,6.5,cm,\n");
    ASSERT_EQ(machine.controls.size(), 1U);
    const auto& own = machine.controls[0];
    ASSERT_EQ(own.dial.size(), 2U);
    EXPECT_EQ(own.dial[0].measured, Day(std::chrono::year{2031} / 9 / 12));
    EXPECT_FALSE(own.dial[1].measured.has_value());
    const auto harvester = ledger::harvester_of(machine).value();
    const auto dial = ledger::dial_of(*harvester.find("share.depth"), own).value();
    EXPECT_TRUE(dial.runs_backwards());
    EXPECT_NEAR(dial.from_shown(4.5).value().actual, 0.080, 1e-12);
}

TEST(ControlsRefuse, WhatIsNoControlOrNotOfThisBuild) {
    expect_problem(with("machine,control\nOld Six,share.dept\n"), "controls.csv", 2, "control",
                   "did you mean");
    expect_problem(with("machine,control\nOld Six,axial_rolls.speed\n"), "controls.csv", 2,
                   "control", "have no axial_rolls.speed");
    expect_problem(with("machine,control\nOld Six,share.depth\nOld Six,share.depth\n"),
                   "controls.csv", 3, "control", "stands on line 2 already");
    expect_problem(with("machine,control\nOld Sixx,share.depth\n"), "controls.csv", 2, "machine",
                   "is not in machines.csv");
    auto nameless = small_folder();
    nameless["controls.csv"] = "machine,control\nOld Six,share.depth\n";
    expect_problem(nameless, "controls.csv", 2, "machine", "there is no machines.csv");
}

TEST(ControlsRefuse, AMachineWithoutABuild) {
    expect_problem(with("machine,control\nTopper,share.depth\n"), "machines.csv", 4, "build",
                   "\"Topper\" has no build, so what can be set on it is not known");
}

TEST(ControlsRefuse, RangesThatAreNone) {
    const auto row = [](const std::string& rest) { return kControls + "Old Six," + rest + "\n"; };
    expect_problem(with(row("share.depth,,,mm,120,60,,,")), "controls.csv", 2, "control",
                   "its least, 120 mm, is not below its most");
    expect_problem(with(row("share.depth,,,mm,,,,300,")), "controls.csv", 2, "control",
                   "its usual value, 300 mm, is outside its range");
    expect_problem(with(row("share.depth,,,mm,,,0,,")), "controls.csv", 2, "control",
                   "a step of 0 mm");
    expect_problem(with(row("share.depth,,,rpm,60,,,,")), "controls.csv", 2, "unit",
                   "'rpm' is not a unit of share.depth");
    expect_problem(with(row("turbine_1.guard,,,mm,,,,tined,")), "controls.csv", 2, "unit",
                   "a choice has no unit");
    expect_problem(with(row("turbine_1.guard,,,,0,,,,")), "controls.csv", 2, "least",
                   "belongs to amounts");
    expect_problem(with(row("turbine_1.guard,,,,,,,on,")), "controls.csv", 2, "usual",
                   "write closed or tined");
    expect_problem(with(row("share.depth,,,,,,,deep,")), "controls.csv", 2, "usual",
                   "neither a number nor a word");
    expect_problem(with(row("share.depth,,,,,,,on,")), "controls.csv", 2, "usual", "is an amount");
    expect_problem(with(kControls + "Old Six,turbine_2.speed,no,,,,,,,\n"
                                    "Old Six,turbine_2.guard,,,,,,,tined,\n"),
                   "controls.csv", 3, "control", "there is no turbine for this guard");
    auto many = with("");
    many["machines.csv"] = "name,rows,build\nOld Six,36,turbines\n";
    expect_problem(many, "machines.csv", 2, "rows", "36 rows cannot be");
}

TEST(DialsRefuse, PointsThatContradictEachOther) {
    const auto points = [](const std::string& rows) {
        return with(kControls + "Old Six,share.depth,,,,,,,,1\n", kDials + rows);
    };
    const std::string two = "Old Six,share.depth,1,60,mm,\nOld Six,share.depth,5,100,mm,\n";
    expect_problem(points(two + "Old Six,share.depth,3,110,mm,\n"), "dials.csv", 4, "shown",
                   "it rises");
    expect_problem(points(two + "Old Six,share.depth,5,90,mm,\n"), "dials.csv", 4, "shown",
                   "5 stands for 90 mm and for 100 mm");
    expect_problem(points(two + "Old Six,share.depth,3.5,80,mm,\n"), "dials.csv", 4, "shown",
                   "no whole number of steps");
    expect_problem(points("Old Six,share.depth,1,160,mm,\n" + two), "dials.csv", 2, "actual",
                   "outside what this machine can");
    expect_problem(points("Old Six,share.depth,1,60,mm,\n"), "dials.csv", 2, "control",
                   "one point says too little");
    expect_problem(with("", kDials + two), "dials.csv", 2, "control",
                   "the step of its display is not said");
    expect_problem(with("", kDials + "Old Six,turbine_1.guard,1,1,,\n"), "dials.csv", 2, "control",
                   "chosen, not measured");
}

// Else nobody could set one file after the other.
TEST(Dials, AStepWithoutPointsIsNoDialYet) {
    EXPECT_FALSE(old_six(kControls + "Old Six,share.depth,,,,,,,,1\n").controls[0].has_dial());
}

class MachinesRoundTrip : public ::testing::TestWithParam<UnitSystem> {};

TEST_P(MachinesRoundTrip, GivesBackWhatWasWritten) {
    const auto season = must_read(with(kControls + "Old Six,share.depth,yes,,in,2,4.25,0.25,3,1\n"
                                                   "Old Six,turbine_2.guard,,yes,,,,,closed,\n"
                                                   "New Nine,axial_rolls.speed,,,,,,,,0.5\n"
                                                   "Old Six,driving.speed,,,mph,,4.1,,,\n"
                                                   "Old Six,follower.load,,yes,lbf,,,,,\n",
                                       kDials + "Old Six,share.depth,3,3.75,in,2031-09-12\n"
                                                "Old Six,share.depth,6,60.3,mm,\n"
                                                "New Nine,axial_rolls.speed,10,150,,\n"
                                                "New Nine,axial_rolls.speed,20,333,,2031-09-13\n"));
    expect_equal_seasons(season, must_read(write_season(season, GetParam())));
}

INSTANTIATE_TEST_SUITE_P(Units, MachinesRoundTrip,
                         ::testing::Values(UnitSystem::metric, UnitSystem::us));

TEST(Controls, TheSchemaSaysThatAValueIsANumberOrAWord) {
    EXPECT_NE(schema_markdown("controls.csv")
                  .find("| `usual` | number, `off`, `on`, `closed`, `tined` |"),
              std::string::npos);
    EXPECT_NE(schema_json("controls.csv").find("\"anyOf\""), std::string::npos);
    EXPECT_NE(schema_typescript().find("\"kind\":\"number or word\""), std::string::npos);
}

}  // namespace
}  // namespace beetwright::io
