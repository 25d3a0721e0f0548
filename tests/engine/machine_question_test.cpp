// A machine in its field as a flow, and what would follow its controls, on the demo's scenes; and
// settings for what somebody sees now.
#include "engine/machine_question.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <string_view>

#include "demo_season/invent.hpp"
#include "io/machine_json.hpp"

namespace beetwright::engine {
namespace {

using harvester::Figure;

/// Shares held too high, on the fifth of October.
constexpr const char* kShallow = "Chalk Ridge";
/// Turbines that run thin.
constexpr const char* kThin = "Warren Top";

const ledger::Season& demo() {
    static const auto season =
        demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
    return season;
}

template <class Answer>
Answer got(Result<Answer> answer) {
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems().front().text());
    return answer.ok() ? std::move(*answer) : Answer{};
}
MachineAnswer machine(const char* field) {
    return got(ask_machine(demo(), {.field = field}));
}
ResponseAnswer response(const char* field, const char* control) {
    return got(ask_response(demo(), {.about = {.field = field}, .control = control}));
}
Estimate<double> amount(const MachineAnswer& answer, FlowFigure figure) {
    for (const auto& stage : answer.stages) {
        for (const auto& one : stage.figures) {
            if (one.figure == figure) {
                return one.amount;
            }
        }
    }
    ADD_FAILURE() << "no stage has " << traits(figure).key;
    return {};
}
double expected(const ResponsePoint& point, Figure figure) {
    return point.figures[static_cast<std::size_t>(figure)].value;
}

TEST(Machine, EveryFigureStandsOnceAndEveryControlAtItsStage) {
    const auto answer = machine(kThin);
    EXPECT_EQ(answer.machine, "Harvester North");
    std::size_t figures = 0;
    for (const auto& stage : answer.stages) {
        figures += stage.figures.size();
        for (const auto& control : stage.controls) {
            const auto named = harvester::find_control_kind(control.now.control);
            ASSERT_TRUE(named);
            EXPECT_EQ(harvester::traits(named->kind).stage, stage.stage) << control.now.control;
            EXPECT_LE(control.least, control.now.value);
            EXPECT_GE(control.most, control.now.value);
        }
    }
    EXPECT_EQ(figures, kFlowFigures);
    EXPECT_TRUE(std::ranges::is_sorted(answer.stages, {}, &StageOfMachine::stage));
}

TEST(Machine, BeetsThatAreNotLostReachTheBunker) {
    const auto answer = machine(kThin);
    double lost = 0.0;
    for (const auto figure : {FlowFigure::knocked_out, FlowFigure::unlifted,
                              FlowFigure::lost_on_the_bed, FlowFigure::lost_in_cleaning}) {
        const auto share = amount(answer, figure);
        EXPECT_GE(share.value, 0.0);
        EXPECT_LE(share.low, share.high);
        lost += share.value;
    }
    EXPECT_NEAR(amount(answer, FlowFigure::reaches_the_bunker).value, 1.0 - lost, 1e-12);
}

TEST(Machine, TailsAreToldWhereTheyBreak) {
    // Shallow shares break them in lifting; turbines that run thin break them in cleaning.
    const auto shallow = machine(kShallow);
    EXPECT_GT(amount(shallow, FlowFigure::tails_in_lifting).value,
              3.0 * amount(shallow, FlowFigure::tails_in_cleaning).value);
    const auto thin = machine(kThin);
    EXPECT_GT(amount(thin, FlowFigure::tails_in_cleaning).value,
              2.0 * amount(thin, FlowFigure::tails_in_lifting).value);
}

TEST(Response, NothingIsGainedByLeavingAControlWhereItIs) {
    const auto answer = response(kThin, "turbine_1.speed");
    const auto now = std::ranges::find_if(answer.points, [&](const ResponsePoint& point) {
        return std::abs(point.reading.value - answer.now.value) < 1e-12;
    });
    ASSERT_NE(now, answer.points.end()) << "the present value is among the points";
    EXPECT_EQ(now->gain.value, MoneyPerArea(0.0));
    EXPECT_EQ(now->gain.low, MoneyPerArea(0.0));
    EXPECT_EQ(now->gain.high, MoneyPerArea(0.0));
    EXPECT_EQ(answer.together.size(), 3u) << "turbines go up and down as one";
}

TEST(Response, FasterTurbinesBreakMoreTailsAndTearMoreSkin) {
    const auto answer = response(kThin, "turbine_2.speed");
    ASSERT_GE(answer.points.size(), 8u);
    for (std::size_t i = 1; i < answer.points.size(); ++i) {
        EXPECT_GT(answer.points[i].reading.value, answer.points[i - 1].reading.value);
        EXPECT_GE(expected(answer.points[i], Figure::tails_broken),
                  expected(answer.points[i - 1], Figure::tails_broken));
        EXPECT_GE(expected(answer.points[i], Figure::torn_skin),
                  expected(answer.points[i - 1], Figure::torn_skin));
    }
    EXPECT_GT(answer.points.front().gain.value, answer.points.back().gain.value);
}

TEST(Response, DeeperSharesBreakFewerTailsAndLiftMoreSoil) {
    const auto answer = response(kShallow, "share.depth");
    EXPECT_LT(expected(answer.points.back(), Figure::tails_broken),
              expected(answer.points.front(), Figure::tails_broken));
    EXPECT_GT(expected(answer.points.back(), Figure::soil),
              expected(answer.points.front(), Figure::soil));
}

TEST(Response, AChoiceHasAPointForEach) {
    const auto answer = response(kThin, "turbine_1.guard");
    EXPECT_TRUE(answer.is_choice);
    ASSERT_EQ(answer.points.size(), 2u);
    EXPECT_EQ(answer.points[0].reading.text, "closed");
    EXPECT_EQ(answer.points[1].reading.text, "tined");
}

TEST(Response, AControlThatTheMachineHasNotIsToldWithTheNearest) {
    const auto answer = ask_response(demo(), {.about = {.field = kThin}, .control = "share.dept"});
    ASSERT_FALSE(answer);
    EXPECT_EQ(answer.problems().front().where.field, "control");
    EXPECT_NE(answer.problems().front().fix.find("share.depth"), std::string::npos);
}

// --- What is seen now ----------------------------------------------------------------------------

SetupAnswer setup(check::StandingLook seen) {
    return got(ask_setup(demo(), {.field = "Lower Sallow", .seen = std::move(seen)}));
}

TEST(SeenNow, CountsBeforeWhatWasSeenEarlier) {
    const auto before = got(ask_setup(demo(), {.field = "Lower Sallow"}));
    ASSERT_NE(before.soil, "sticky");
    check::StandingLook look;
    look.soil_in_hand = check::SoilInHand::sticky;
    look.crown_height = 13.0 * unit::cm;
    look.evenness = check::Evenness::uneven;
    look.leaf_sick = 0.4;
    const auto answer = setup(look);
    EXPECT_EQ(answer.soil, "sticky");
    EXPECT_EQ(answer.conditions.crowns.mean, look.crown_height);
    EXPECT_EQ(answer.evenness, check::Evenness::uneven);
    EXPECT_EQ(answer.conditions.leaf.dead_share, 0.4);
    EXPECT_NE(answer.conditions.crowns.mean, before.conditions.crowns.mean);
    EXPECT_TRUE(std::ranges::none_of(answer.seen, [](const std::string& sentence) {
        return sentence.find("crowns measured") != std::string::npos;
    })) << "what was measured earlier is not what counts now";
}

TEST(SeenNow, SaysNothingOfWhatIsNotSaid) {
    const auto before = got(ask_setup(demo(), {.field = "Lower Sallow"}));
    check::StandingLook look;
    look.soil_in_hand = check::SoilInHand::plastic;
    const auto answer = setup(look);
    EXPECT_EQ(answer.conditions.crowns.mean, before.conditions.crowns.mean);
    EXPECT_EQ(answer.conditions.crowns.sd, before.conditions.crowns.sd);
    EXPECT_EQ(answer.conditions.leaf.dead_share, before.conditions.leaf.dead_share);
}

TEST(SeenNow, AHeightByEyeLeavesTheSpreadThatWasMeasured) {
    const auto before = got(ask_setup(demo(), {.field = "Lower Sallow"}));
    check::StandingLook look;
    look.crown_height = 9.0 * unit::cm;
    const auto answer = setup(look);
    EXPECT_EQ(answer.conditions.crowns.mean, look.crown_height);
    EXPECT_EQ(answer.conditions.crowns.sd, before.conditions.crowns.sd);
}

TEST(SeenNow, IsNotKept) {
    const std::size_t looks = demo().standing.size();
    check::StandingLook look;
    look.soil_in_hand = check::SoilInHand::hard;
    (void)setup(look);
    EXPECT_EQ(demo().standing.size(), looks);
}

TEST(SeenNow, WhatWasMeasuredLaterThanSeenCounts) {
    ledger::Season season = demo();
    const auto measured = std::ranges::find_if(season.standing, [](const auto& look) {
        return look.field == "Lower Sallow" && look.crowns.size() >= 5;
    });
    ASSERT_NE(measured, season.standing.end());
    const auto before = got(ask_setup(season, {.field = "Lower Sallow"}));
    check::StandingLook by_eye;
    by_eye.field = "Lower Sallow";
    by_eye.at = measured->at - std::chrono::hours(1);
    by_eye.crown_height = 20.0 * unit::cm;
    season.standing.push_back(by_eye);
    const auto answer = got(ask_setup(season, {.field = "Lower Sallow"}));
    EXPECT_EQ(answer.conditions.crowns.mean, before.conditions.crowns.mean);
}

}  // namespace
}  // namespace beetwright::engine
