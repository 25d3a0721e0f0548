// soils.csv, and the wheels of machines.csv.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "io/schema_text.hpp"
#include "io/small_folder.hpp"
#include "season_equal.hpp"
#include "weather/soil.hpp"

namespace beetwright::io {
namespace {

using weather::SoilClass;

FileTexts with(const char* file, std::string text) {
    auto files = small_folder();
    files[file] = std::move(text);
    return files;
}

TEST(Soils, SayWhatTheyHoldAndHowTheyDry) {
    const auto season = must_read(
        with("soils.csv",
             "name,class,holds [mm],stop_filling [%],drains_to [%],drain_lag [h],rain_stop [mm]\n"
             "top of the hill,sandy loam,32,92,78,18,4\nmarsh,,,,,,\n"));
    ASSERT_EQ(season.soils.size(), 2U);
    const auto& hill = season.soils[0];
    EXPECT_EQ(hill.soil_class, SoilClass::sandy_loam);
    EXPECT_EQ(hill.holds, 32.0 * unit::mm);
    EXPECT_NEAR(hill.stop_filling, 0.92, 1e-15);
    EXPECT_NEAR(hill.drains_to, 0.78, 1e-15);
    EXPECT_EQ(hill.drain_lag, 18.0 * unit::hour);
    EXPECT_EQ(hill.rain_stop, 4.0 * unit::mm);
    const auto& marsh = season.soils[1];
    EXPECT_FALSE(marsh.soil_class.has_value());
    EXPECT_FALSE(marsh.holds.is_known());
    EXPECT_TRUE(std::isnan(marsh.stop_filling));
    EXPECT_FALSE(marsh.drain_lag.is_known());
}

TEST(Soils, AreOfAClassTheirRowTheirWordOrLoam) {
    const auto season = must_read(with(
        "soils.csv", "name,class\ntop of the hill,sandy loam\nheavy clay,silty clay\nclay,\n"));
    EXPECT_EQ(ledger::soil_class_of(season, "top of the hill"), SoilClass::sandy_loam);
    EXPECT_EQ(ledger::soil_class_of(season, "heavy clay"), SoilClass::silty_clay)
        << "the row says more than the word";
    EXPECT_EQ(ledger::soil_class_of(season, "clay"), SoilClass::clay) << "its row has no class";
    EXPECT_EQ(ledger::soil_class_of(season, "silt, stony"), SoilClass::silt) << "no row at all";
    EXPECT_EQ(ledger::soil_class_of(season, "marsh"), SoilClass::loam);
    EXPECT_EQ(ledger::soil_class_of(season, ""), SoilClass::loam);
}

TEST(Soils, TheWordsOfTheTableAreTheClasses) {
    std::string rows = "name,class\n";
    for (const auto& soil : weather::soils()) {
        rows += "a " + std::string(soil.name) + "," + std::string(soil.name) + "\n";
    }
    const auto season = must_read(with("soils.csv", rows));
    ASSERT_EQ(season.soils.size(), weather::soils().size());
    for (std::size_t i = 0; i < season.soils.size(); ++i) {
        EXPECT_EQ(season.soils[i].soil_class, weather::soils()[i].soil_class);
    }
}

TEST(Soils, AFieldsSoilNeedNotBeThere) {
    auto files = with("soils.csv", "name,class\nmarsh,clay\n");
    files["fields.csv"] = "name,area [ha],soil\nLong Acre,12.5,marsh\nMill Field,8,heavy clay\n";
    EXPECT_EQ(must_read(files).fields[1].soil, "heavy clay");
}

TEST(SoilsRefuse, WhatIsNoClassAndWhatNeverDries) {
    expect_problem(with("soils.csv", "name,class\nmarsh,bog\n"), "soils.csv", 2, "class",
                   "silty clay loam");
    expect_problem(with("soils.csv", "name\nmarsh\nmarsh\n"), "soils.csv", 3, "name", "line 2");
    expect_problem(with("soils.csv", "name,stop_filling [%],drains_to [%]\nmarsh,80,80\n"),
                   "soils.csv", 2, "drains_to", "the filling from which one stops");
    expect_problem(with("soils.csv", "name,holds [in]\nmarsh,40\n"), "soils.csv", 2, "holds",
                   "40 in is not possible");
}

TEST(Machines, SayWhatTheirHeaviestWheelBears) {
    const auto read = [](const std::string& text) {
        return must_read(with("machines.csv", text)).machines.at(0).heaviest_wheel;
    };
    const auto metric = read(
        "name,wheel_load [t],tyre_pressure [bar],tyre_width [cm],tyre_diameter [cm]\n"
        "Old Six,9.5,2.2,80,190\n");
    EXPECT_EQ(metric.load, Mass(9500.0));
    EXPECT_NEAR(metric.pressure.si(), 220'000.0, 1e-6);
    EXPECT_EQ(metric.width, 80.0 * unit::cm);
    EXPECT_NEAR(metric.diameter.si(), 1.9, 1e-12);
    const auto us = read(
        "name,wheel_load [short ton],tyre_pressure [psi],tyre_width [in],tyre_diameter [in]\n"
        "Old Six,10,32,30,75\n");
    EXPECT_NEAR(us.load.si(), 9071.8474, 1e-6);
    EXPECT_NEAR(us.pressure.si(), 32.0 * 6894.757, 0.02);
    EXPECT_NEAR(us.diameter / unit::inch, 75.0, 1e-12);
    EXPECT_FALSE(read("name\nOld Six\n").load.is_known());
    expect_problem(with("machines.csv", "name,tyre_pressure [bar]\nOld Six,32\n"), "machines.csv",
                   2, "tyre_pressure", "32 bar is not possible");
}

class MastersRoundTrip : public ::testing::TestWithParam<UnitSystem> {};

TEST_P(MastersRoundTrip, GivesBackWhatWasWritten) {
    auto files =
        with("soils.csv",
             "name,class,holds [mm],stop_filling [%],drains_to [%],drain_lag [h],rain_stop [mm]\n"
             "top of the hill,sandy loam,32,92,78,18,4\nmarsh,,,,,,\nclay,clay,,,70,,2.5\n");
    files["machines.csv"] =
        "name,rows,row_spacing [cm],wheel_load [t],tyre_pressure [bar],tyre_width [cm],"
        "tyre_diameter [cm]\nOld Six,6,45,9.5,2.2,80,190\nNew Six,6,,,1.8,,\n";
    const auto season = must_read(files);
    expect_equal_seasons(season, must_read(write_season(season, GetParam())));
}

INSTANTIATE_TEST_SUITE_P(Units, MastersRoundTrip,
                         ::testing::Values(UnitSystem::metric, UnitSystem::us));

TEST(Soils, TheAppLearnsThatFieldsNameThem) {
    EXPECT_NE(schema_typescript().find("\"explained\":\"soils.csv\""), std::string::npos);
}

}  // namespace
}  // namespace beetwright::io
