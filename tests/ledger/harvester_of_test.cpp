// The harvester that a machine of the season is.
#include "ledger/harvester_of.hpp"

#include <gtest/gtest.h>

#include <string>

namespace beetwright::ledger {
namespace {

using harvester::MachineKind;

Machine built_as(MachineKind build) {
    Machine machine;
    machine.name = "Old Six";
    machine.build = build;
    return machine;
}
OwnControl own(const char* control) {
    OwnControl said;
    said.control = control;
    return said;
}

TEST(HarvesterOf, IsAsItsBuildWhereNothingElseIsSaid) {
    const auto made = harvester_of(built_as(MachineKind::two_stage)).value();
    const auto usual = harvester::ready_made(MachineKind::two_stage);
    EXPECT_EQ(made.name, "Old Six");
    EXPECT_EQ(made.rows, usual.rows);
    ASSERT_EQ(made.controls.size(), usual.controls.size());
    for (std::size_t i = 0; i < usual.controls.size(); ++i) {
        EXPECT_EQ(made.controls[i].id(), usual.controls[i].id());
        EXPECT_EQ(made.controls[i].most, usual.controls[i].most);
        EXPECT_EQ(made.controls[i].source, usual.controls[i].source);
    }
}

TEST(HarvesterOf, TakesTheOwnersRangesAndSaysWhoseTheyAre) {
    auto machine = built_as(MachineKind::six_row_turbines);
    machine.rows = 9;
    auto depth = own("share.depth");
    depth.most = 0.100;
    auto gap = own("share.gap");
    gap.least = 0.032;
    gap.most = 0.050;
    gap.step = 0.002;
    gap.usual = 0.040;
    machine.controls = {depth, gap};
    const auto made = harvester_of(machine).value();
    EXPECT_EQ(made.rows, 9);
    const auto* kind = harvester::ready_made(MachineKind::six_row_turbines).find("share.depth");
    ASSERT_NE(kind, nullptr);
    EXPECT_EQ(made.find("share.depth")->most, 0.100);
    EXPECT_EQ(made.find("share.depth")->least, 0.050);
    EXPECT_EQ(made.find("share.depth")->how, HowKnown::from_memory) << "as firm as what is left";
    EXPECT_EQ(made.find("share.gap")->how, HowKnown::measured);
    EXPECT_EQ(made.find("share.gap")->source, "its owner");
}

TEST(HarvesterOf, LeavesOutWhatIsNotFittedAndAGuardWithItsTurbine) {
    auto machine = built_as(MachineKind::six_row_turbines);
    auto turbine = own("turbine_3.speed");
    turbine.fitted = false;
    auto reversed = own("roller_bed.last_reversed");
    reversed.fitted = false;
    machine.controls = {turbine, reversed};
    const auto made = harvester_of(machine).value();
    for (const char* gone : {"turbine_3.speed", "turbine_3.guard", "turbine_3.clearance",
                             "roller_bed.last_reversed"}) {
        EXPECT_EQ(made.find(gone), nullptr) << gone;
    }
    EXPECT_NE(made.find("turbine_2.guard"), nullptr);
}

TEST(HarvesterOf, MayHaveMoreTurbinesThanItsBuild) {
    auto machine = built_as(MachineKind::six_row_turbines);
    auto turbine = own("turbine_4.speed");
    turbine.most = 1.2;
    machine.controls = {turbine};
    const auto made = harvester_of(machine).value();
    EXPECT_EQ(made.count(harvester::ControlKind::turbine_speed), 4);
    const auto* third = made.find("turbine_3.speed");
    const auto* fourth = made.find("turbine_4.speed");
    ASSERT_NE(fourth, nullptr);
    EXPECT_EQ(fourth->least, third->least);
    EXPECT_EQ(fourth->most, 1.2);
    EXPECT_LT(third, fourth) << "in the order of the stages";
    EXPECT_LT(fourth, made.find("bunker.drop"));
}

TEST(HarvesterOf, SaysWhyThereIsNone) {
    Machine unknown;
    unknown.name = "Old Six";
    EXPECT_EQ(harvester_of(unknown).problems().front().where.field, "build");
    auto rolls = built_as(MachineKind::six_row_axial_rolls);
    rolls.controls = {own("turbine_1.speed"), own("roller_bed_2.speed")};
    const auto refused = harvester_of(rolls);
    ASSERT_EQ(refused.problems().size(), 2U);
    EXPECT_EQ(refused.problems()[0].where.field, "turbine_1.speed");
    EXPECT_EQ(refused.problems()[1].where.field, "roller_bed_2.speed");
}

TEST(DialOf, NeedsAStepAndPoints) {
    const auto machine = harvester_of(built_as(MachineKind::six_row_turbines)).value();
    const auto& depth = *machine.find("share.depth");
    auto said = own("share.depth");
    EXPECT_NE(dial_of(depth, said).problems()[0].what.find("no display"), std::string::npos);
    said.dial = {{{1.0, 0.060}, {}}, {{5.0, 0.100}, {}}};
    EXPECT_NE(dial_of(depth, said).problems()[0].what.find("step"), std::string::npos);
    said.display_step = 0.5;
    EXPECT_NEAR(dial_of(depth, said).value().from_shown(2.5).value().actual, 0.075, 1e-12);
}

TEST(ProblemsOf, LooksAtWhatWasSetAlone) {
    const auto machine = harvester_of(built_as(MachineKind::six_row_turbines)).value();
    const auto wrong = [&](std::vector<check::SetControl> set) {
        return problems_of(set, machine);
    };
    EXPECT_TRUE(wrong({{"share.depth", 0.08}}).empty());
    EXPECT_TRUE(wrong({}).empty());
    EXPECT_EQ(wrong({{"share.depth", 0.20}})[0].where.field, "share.depth");
    EXPECT_EQ(wrong({{"axial_rolls.gap", 0.02}})[0].kind, ProblemKind::conflict);
    EXPECT_EQ(wrong({{"leaf_remover.height", 0.05}, {"follower.lowest", 0.06}})[0].where.field,
              "follower.lowest")
        << "what cannot go together";
}

}  // namespace
}  // namespace beetwright::ledger
