// How piles are laid out: piles.csv, fans.csv, and where loads were tipped.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "io/small_folder.hpp"
#include "season_equal.hpp"

namespace beetwright::io {
namespace {

using ledger::FanRule;
using ledger::PileBuilding;
using ledger::PileGround;

FileTexts folder() {
    auto files = small_folder();
    files["destinations.csv"] = "name,kind\nYard,pile\nLane,pile\nWorks,factory\n";
    files["piles.csv"] =
        "name,base_width [m],top_width [m],height [m],length [m],orientation [°],ground,built\n"
        "Yard,8,1.5,3,60,75,concrete,from_one_end\n"
        "Lane,6,,2.5,100,,,\n";
    return files;
}
FileTexts with(const std::string& file, const std::string& text) {
    auto files = folder();
    files[file] = text;
    return files;
}
const std::string kShape = "name,base_width [m],top_width [m],height [m],length [m]\n";
const std::string kFans =
    "pile,from [m],to [m],flow [m3/h],pressure [Pa],power [kW],rule,difference [K],not_below [°C],"
    "only_below [°C]\n";

TEST(Piles, SayHowTheyAreLaidOut) {
    const auto season = must_read(folder());
    ASSERT_EQ(season.piles.size(), 2U);
    const auto& yard = season.piles[0];
    EXPECT_EQ(yard.name, "Yard");
    EXPECT_EQ(yard.base_width, 8.0 * unit::m);
    EXPECT_EQ(yard.length, 60.0 * unit::m);
    EXPECT_NEAR(yard.orientation_rad, 75.0 * std::numbers::pi / 180.0, 1e-15);
    EXPECT_EQ(yard.ground, PileGround::concrete);
    EXPECT_EQ(yard.built, PileBuilding::from_one_end);
    const auto& lane = season.piles[1];
    EXPECT_EQ(lane.top_width, Length::zero()) << "a roof";
    EXPECT_TRUE(std::isnan(lane.orientation_rad));
    EXPECT_FALSE(lane.ground.has_value());
    EXPECT_FALSE(lane.built.has_value());
}

// A trapezoid of 8 m below, 1.5 m above and 3 m high: 4.75 m wide on average, flanks that rise by 3
// over 3.25.
TEST(Piles, HaveASection) {
    const auto yard = must_read(folder()).piles[0];
    EXPECT_NEAR(yard.section() / unit::m2, 14.25, 1e-12);
    EXPECT_NEAR(yard.slope_rad(), std::atan(3.0 / 3.25), 1e-12);
    EXPECT_NEAR(yard.half_width_at(1.5 * unit::m) / unit::m, 2.375, 1e-12);
    EXPECT_LT(yard.half_width_at(3.1 * unit::m).si(), 0.0);
}

TEST(Piles, MayStandBetweenWalls) {
    const auto season = must_read(with("piles.csv", kShape + "Yard,20,20,4,60\n"));
    ASSERT_EQ(season.piles.size(), 1U);
}

TEST(PilesRefuse, ShapesThatCannotStand) {
    expect_problem(with("piles.csv", kShape + "Yard,5,8,3,60\n"), "piles.csv", 2, "top_width",
                   "its top, 8 m (26.25 ft), is wider than its base");
    // 4 over 3 is 53 degrees.
    expect_problem(with("piles.csv", kShape + "Yard,6,,4,60\n"), "piles.csv", 2, "height",
                   "stand at 53.13 degrees, and beets slide at 45 to 50");
    expect_problem(with("piles.csv", kShape + "Yard,8,0,-3,60\n"), "piles.csv", 2, "height",
                   "not possible here");
}

TEST(PilesRefuse, WhatIsNoPile) {
    expect_problem(with("piles.csv", kShape + "Works,8,0,3,60\n"), "piles.csv", 2, "name",
                   "\"Works\" is a factory");
    expect_problem(with("piles.csv", kShape + "Yart,8,0,3,60\n"), "piles.csv", 2, "name",
                   "is not in destinations.csv. did you mean \"Yard\"");
    expect_problem(with("piles.csv", kShape + "Yard,8,0,3,60\nYard,8,0,3,50\n"), "piles.csv", 3,
                   "name", "stands on line 2 already");
    auto nameless = small_folder();
    nameless["piles.csv"] = kShape + "Yard,8,0,3,60\n";
    expect_problem(nameless, "piles.csv", 2, "name", "there is no destinations.csv");
}

TEST(Fans, HaveADuctAndARule) {
    const auto season =
        must_read(with("fans.csv", kFans + "Yard,5,55,20000,300,5.5,difference,2,0,\n"
                                           "Yard,,,8000,,,off,,,\n"
                                           "Lane,,50,12000,250,,freeze,,,-12\n"));
    ASSERT_EQ(season.piles[0].fans.size(), 2U);
    const auto& fan = season.piles[0].fans[0];
    EXPECT_EQ(fan.stretch.from, 5.0 * unit::m);
    EXPECT_EQ(fan.stretch.to, 55.0 * unit::m);
    EXPECT_NEAR(fan.flow.si(), 20000.0 / 3600.0, 1e-12);
    EXPECT_EQ(fan.pressure.si(), 300.0);
    EXPECT_NEAR(fan.power.si(), 5500.0, 1e-9);
    EXPECT_EQ(fan.rule, FanRule::difference);
    EXPECT_EQ(fan.difference, 2.0 * unit::K);
    ASSERT_TRUE(fan.not_below.has_value());
    EXPECT_NEAR(fan.not_below->in_celsius(), 0.0, 1e-12);
    EXPECT_FALSE(fan.only_below.has_value());
    EXPECT_FALSE(season.piles[0].fans[1].stretch.from.is_known());
    EXPECT_EQ(season.piles[1].fans.at(0).rule, FanRule::freeze);
}

TEST(Fans, AreReadInUsUnits) {
    const auto season = must_read(with(
        "fans.csv",
        "pile,flow [cu ft/min],pressure [inH2O],power [hp],rule,difference [F°],not_below [°F]\n"
        "Yard,12000,1.5,7.5,difference,3.6,32\n"));
    const auto& fan = season.piles[0].fans.at(0);
    EXPECT_NEAR(fan.flow.si(), 12000.0 * 0.3048 * 0.3048 * 0.3048 / 60.0, 1e-12);
    EXPECT_NEAR(fan.difference.si(), 2.0, 1e-12);
    EXPECT_NEAR(fan.not_below->in_celsius(), 0.0, 1e-12);
}

TEST(FansRefuse, WhatCannotRun) {
    const auto row = [](const std::string& cells) {
        return with("fans.csv", kFans + cells + "\n");
    };
    expect_problem(row("Yard,5,65,20000,,,off,,,"), "fans.csv", 2, "to",
                   "65 m (213.3 ft) along the pile, which is 60 m (196.9 ft) long");
    expect_problem(row("Yard,55,5,20000,,,off,,,"), "fans.csv", 2, "to", "begins at 55 m");
    expect_problem(row("Yard,,,20000,,,difference,,,"), "fans.csv", 2, "difference",
                   "does not say by which");
    expect_problem(row("Yard,,,20000,,,freeze,2,,-12"), "fans.csv", 2, "difference",
                   "of no use to a fan");
    expect_problem(row("Yard,,,20000,,,freeze,,,"), "fans.csv", 2, "only_below", "in which air");
    expect_problem(row("Yard,,,20000,,,difference,2,5,3"), "fans.csv", 2, "not_below",
                   "it never runs: not below 5 °C, and only below 3 °C");
    expect_problem(row("Works,,,20000,,,off,,,"), "fans.csv", 2, "pile", "is a factory");
    auto bare = row("Lane,,,20000,,,off,,,");
    bare["piles.csv"] = kShape + "Yard,8,0,3,60\n";
    expect_problem(bare, "fans.csv", 2, "pile", "does not say how this pile is laid out");
    expect_problem(with("fans.csv", "pile,flow [m3/h],rule,difference [°F]\nYard,1,difference,3\n"),
                   "fans.csv", 1, "difference", "K, C°, F°");
}

// What is amiss with a pile is told there, and not again with each of its fans.
TEST(FansRefuse, NothingOnceThePileIsNotInOrder) {
    auto files = with("fans.csv", kFans + "Yard,,,20000,,,off,,,\n");
    files["piles.csv"] = kShape + "Yard,6,,4,60\n";
    const auto refused = read_season(files);
    ASSERT_FALSE(refused.ok());
    EXPECT_EQ(refused.problems().size(), 1U);
}

TEST(Loads, SayWhereTheyWereTipped) {
    const auto season =
        must_read(with("loads.csv",
                       "field,at,destination,gross [t],along_from [m],along_to [m]\n"
                       "Long Acre,2031-10-04,Yard,25,0,4.5\nLong Acre,2031-10-05,Works,25,,\n"));
    ASSERT_EQ(season.loads.size(), 2U);
    EXPECT_TRUE(season.loads[0].says_where());
    EXPECT_EQ(season.loads[0].stretch.to, 4.5 * unit::m);
    EXPECT_FALSE(season.loads[1].says_where());
}

// Else a table that got the new columns would bring all its loads a second time.
TEST(Loads, ThatDoNotSayAreTheSameWithAndWithoutTheColumns) {
    const auto with_columns = must_read(
        with("loads.csv",
             "field,at,gross [t],along_from [m],along_to [m]\nLong Acre,2031-10-04,25,,\n"));
    const auto without =
        must_read(with("loads.csv", "field,at,gross [t]\nLong Acre,2031-10-04,25\n"));
    EXPECT_EQ(with_columns.loads.at(0).id, without.loads.at(0).id);
}

TEST(LoadsRefuse, PlacesThatAreNone) {
    const auto row = [](const std::string& cells) {
        return with("loads.csv",
                    "field,at,destination,gross [t],along_from [m],along_to [m]\n"
                    "Long Acre,2031-10-04," +
                        cells + "\n");
    };
    expect_problem(row("Yard,25,58,62"), "loads.csv", 2, "along_to", "which is 60 m");
    expect_problem(row("Yard,25,8,4"), "loads.csv", 2, "along_to", "begins at 8 m");
    expect_problem(row("Yard,25,8,"), "loads.csv", 2, "along_to", "one end");
    expect_problem(row("Yard,25,,8"), "loads.csv", 2, "along_from", "one end");
    expect_problem(row(",25,4,8"), "loads.csv", 2, "destination", "does not say which");
    expect_problem(row("Works,25,4,8"), "loads.csv", 2, "destination", "is a factory");
}

class PilesRoundTrip : public ::testing::TestWithParam<UnitSystem> {};

TEST_P(PilesRoundTrip, GivesBackWhatWasWritten) {
    auto files = with("fans.csv", kFans +
                                      "Yard,5,55,20000,300,5.5,difference,1.5,-1,\n"
                                      "Lane,,50,12345,,,freeze,,-30,-12.5\n"
                                      "Yard,,,8000,,,off,,,\n");
    files["loads.csv"] =
        "field,at,destination,gross [t],along_from [ft],along_to [ft]\n"
        "Long Acre,2031-10-04,Yard,25,0,17\nLong Acre,2031-10-05,Works,25,,\n";
    files["covers.csv"] = "pile,at,from [m],to [m],cover\nYard,2031-11-20,,41.3,fleece\n";
    files["probes.csv"] =
        "pile,at,probe,kind,along [ft],across [ft],height [ft],temperature [°F]\n"
        "Yard,2031-11-20T08:00Z,1,logger,33,-2.5,4,41.3\n";
    files["removals.csv"] = "pile,at,from [m],to [m],gross [short ton]\nLane,2031-12-20,0,20,\n";
    const auto season = must_read(files);
    expect_equal_seasons(season, must_read(write_season(season, GetParam())));
}

INSTANTIATE_TEST_SUITE_P(Units, PilesRoundTrip,
                         ::testing::Values(UnitSystem::metric, UnitSystem::us));

}  // namespace
}  // namespace beetwright::io
