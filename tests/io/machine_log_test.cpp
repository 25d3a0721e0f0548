// settings.csv and parts.csv: what crews write down about their machines.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "io/small_folder.hpp"
#include "season_equal.hpp"

namespace beetwright::io {
namespace {

using check::Answer;

const std::string kHeader = "id,supersedes,at,machine,field,answer,control,value,unit\n";

/// A folder with two machines, one of which has a display for its share depth that runs backwards.
FileTexts folder() {
    auto files = small_folder();
    files["machines.csv"] = "name,rows,build\nOld Six,6,turbines\nTopper,,\n";
    files["controls.csv"] = "machine,control,display_step\nOld Six,share.depth,0.5\n";
    files["dials.csv"] =
        "machine,control,shown,actual\nOld Six,share.depth,3,95\nOld Six,share.depth,6,65\n";
    return files;
}
FileTexts with_settings(const std::string& rows) {
    auto files = folder();
    files["settings.csv"] = kHeader + rows;
    return files;
}
FileTexts with_parts(std::string text) {
    auto files = folder();
    files["parts.csv"] = std::move(text);
    return files;
}

TEST(Settings, RowsOfOneIdAreOneNote) {
    const auto season = must_read(
        with_settings("a,,2031-10-04T07:30+02:00,Old Six,Long Acre,,share.depth,7.5,cm\n"
                      "b,,2031-10-05T07:30+02:00,Old Six,,accepted,turbine_1.speed,41,\n"
                      "a,,2031-10-04T07:30+02:00,Old Six,Long Acre,,turbine_2.guard,closed,\n"
                      "a,,2031-10-04T07:30+02:00,Old Six,Long Acre,,driving.speed,3,mph\n"));
    ASSERT_EQ(season.settings.size(), 2U);
    const auto& note = season.settings[0];
    EXPECT_EQ(note.machine, "Old Six");
    EXPECT_EQ(note.field, "Long Acre");
    EXPECT_EQ(note.answer, Answer::none);
    EXPECT_EQ(note.id, note_id("a", "Old Six"));
    ASSERT_EQ(note.controls.size(), 3U);
    EXPECT_EQ(note.controls[0].control, "share.depth");
    EXPECT_NEAR(note.controls[0].value, 0.075, 1e-15);
    EXPECT_EQ(note.controls[1].value, static_cast<double>(harvester::Guard::closed));
    EXPECT_NEAR(note.controls[2].value, 3.0 * 1609.344 / 3600.0, 1e-12);
    EXPECT_EQ(season.settings[1].answer, Answer::accepted);
    EXPECT_TRUE(season.settings[1].field.empty());
    EXPECT_NEAR(season.settings[1].controls[0].value, 41.0 / 60.0, 1e-15);
}

TEST(Settings, ANumberOnTheDisplayIsWhatItsPointsSay) {
    const auto season =
        must_read(with_settings("a,,2031-10-04,Old Six,,,share.depth,4.5,display\n"));
    ASSERT_EQ(season.settings.size(), 1U);
    EXPECT_NEAR(season.settings[0].controls.at(0).value, 0.080, 1e-12);
}

TEST(Settings, ADeclinedAdviceMaySetNothing) {
    const auto season = must_read(with_settings("a,,2031-10-04,Old Six,,declined,,,\n"));
    ASSERT_EQ(season.settings.size(), 1U);
    EXPECT_EQ(season.settings[0].answer, Answer::declined);
    EXPECT_TRUE(season.settings[0].controls.empty());
}

TEST(Settings, ACorrectionNamesTheNote) {
    const auto season =
        must_read(with_settings("a,,2031-10-04,Old Six,,,share.depth,75,\n"
                                "b,a,2031-10-04,Old Six,,,share.depth,70,\n"
                                "b,a,2031-10-04,Old Six,,,share.gap,40,\n"));
    ASSERT_EQ(season.settings.size(), 2U);
    EXPECT_EQ(season.settings[1].supersedes, season.settings[0].id);
}

TEST(SettingsRefuse, RowsOfANoteThatDoNotAgree) {
    const std::string first = "a,,2031-10-04,Old Six,Long Acre,,share.depth,75,\n";
    for (const char* other : {"a,,2031-10-05,Old Six,Long Acre,,share.gap,40,\n",
                              "a,,2031-10-04,Old Six,Mill Field,,share.gap,40,\n",
                              "a,,2031-10-04,Old Six,Long Acre,other,share.gap,40,\n",
                              "a,b,2031-10-04,Old Six,Long Acre,,share.gap,40,\n"}) {
        expect_problem(with_settings(first + other), "settings.csv", 3, "id",
                       "this note began on line 2");
    }
    expect_problem(with_settings(first + first), "settings.csv", 3, "control",
                   "has set share.depth already");
    expect_problem(with_settings("a,,2031-10-04,Old Six,,declined,,,\n"
                                 "a,,2031-10-04,Old Six,,declined,share.gap,40,\n"),
                   "settings.csv", 3, "control", "names no control on line 2");
}

TEST(SettingsRefuse, WhatTheMachineHasNotOrCannot) {
    const auto row = [](const std::string& rest) {
        return with_settings("a,,2031-10-04,Old Six,,," + rest + "\n");
    };
    expect_problem(row("share.depth,300,"), "settings.csv", 2, "value",
                   "300 mm is outside what this machine can");
    expect_problem(row("axial_rolls.speed,200,"), "settings.csv", 2, "control",
                   "this machine has no axial rolls");
    expect_problem(row("share.dept,80,"), "settings.csv", 2, "control", "did you mean");
    expect_problem(row("turbine_1.guard,on,"), "settings.csv", 2, "value", "write closed or tined");
    expect_problem(row("turbine_1.guard,1,"), "settings.csv", 2, "value", "write closed or tined");
    expect_problem(row("share.depth,80,rpm"), "settings.csv", 2, "unit", "not a unit of");
    expect_problem(row("share.depth,,"), "settings.csv", 2, "value", "this is empty");
    expect_problem(row(",80,"), "settings.csv", 2, "control", "does not say what was set");
    expect_problem(with_settings("a,,2031-10-04,Old Six,,declined,,80,\n"), "settings.csv", 2,
                   "control", "this value is of no control");
    expect_problem(with_settings("a,,2031-10-04,Old Six,,,leaf_remover.height,50,\n"
                                 "a,,2031-10-04,Old Six,,,follower.lowest,60,\n"),
                   "settings.csv", 3, "value", "is not below the leaf remover");
}

TEST(SettingsRefuse, ADisplayThatSaysNothing) {
    const auto row = [](const std::string& rest) {
        return with_settings("a,,2031-10-04,Old Six,,," + rest + "\n");
    };
    expect_problem(row("share.depth,9,display"), "settings.csv", 2, "value",
                   "9 on the display is outside what was measured");
    expect_problem(row("share.gap,9,display"), "settings.csv", 2, "unit",
                   "no display is bound to it");
    expect_problem(row("turbine_1.guard,closed,display"), "settings.csv", 2, "unit",
                   "a choice has no unit");
}

TEST(SettingsRefuse, AMachineOfWhichNothingIsKnown) {
    expect_problem(with_settings("a,,2031-10-04,Topper,,,share.depth,80,\n"), "settings.csv", 2,
                   "machine", "has no build");
    expect_problem(with_settings("a,,2031-10-04,Old Sixx,,,share.depth,80,\n"), "settings.csv", 2,
                   "machine", "is not in machines.csv");
    auto nameless = small_folder();
    nameless["settings.csv"] = kHeader + "a,,2031-10-04,Old Six,,,share.depth,80,\n";
    expect_problem(nameless, "settings.csv", 2, "machine", "no machines.csv");
}

TEST(SettingsRefuse, AMachineWithoutItsBuildOnce) {
    std::string rows;
    for (int note = 0; note < 20; ++note) {
        rows += std::string(1, static_cast<char>('a' + note)) +
                ",,2031-10-04,Topper,,,share.depth,80,\n";
    }
    const auto read = read_season(with_settings(rows));
    ASSERT_FALSE(read.ok());
    EXPECT_EQ(std::ranges::count_if(read.problems(),
                                    [](const Problem& one) {
                                        return one.text().find("has no build") != std::string::npos;
                                    }),
              1);
}

// A contradiction in the machine's own tables is told there, and not again with each note.
TEST(SettingsRefuse, NothingOnceTheMachineIsNotInOrder) {
    auto files = with_settings("a,,2031-10-04,Old Six,,,share.depth,80,\n");
    files["controls.csv"] = "machine,control,least,most\nOld Six,share.depth,90,60\n";
    files.erase("dials.csv");
    const auto refused = read_season(files);
    ASSERT_FALSE(refused.ok());
    EXPECT_TRUE(std::ranges::none_of(
        refused.problems(), [](const auto& one) { return one.where.file == "settings.csv"; }));
}

TEST(Parts, SayWhatWasRenewedWhereAndWhen) {
    const auto season =
        must_read(with_parts("machine,at,stage,what\nOld Six,2031-10-04T17:00+02:00,lifting_shares,"
                             "\"new points, all rows\"\n"));
    ASSERT_EQ(season.parts.size(), 1U);
    EXPECT_EQ(season.parts[0].machine, "Old Six");
    EXPECT_EQ(season.parts[0].stage, check::MachineStage::lifting_shares);
    EXPECT_EQ(season.parts[0].what, "new points, all rows");
    EXPECT_FALSE(season.parts[0].id.is_nil());
}

TEST(PartsRefuse, WhatSaysTooLittle) {
    expect_problem(with_parts("machine,at,stage,what\nOld Six,2031-10-04,shares,new\n"),
                   "parts.csv", 2, "stage", "lifting_shares");
    expect_problem(with_parts("machine,at,stage,what\nOld Six,2031-10-04,scalper,\n"), "parts.csv",
                   2, "what", "this is empty");
    expect_problem(with_parts("machine,at,stage,what\nOld Sixx,2031-10-04,scalper,knives\n"),
                   "parts.csv", 2, "machine", "is not in machines.csv");
}

class MachineLogRoundTrip : public ::testing::TestWithParam<UnitSystem> {};

TEST_P(MachineLogRoundTrip, GivesBackWhatWasWritten) {
    auto files = with_settings(
        "a,,2031-10-04T07:30+02:00,Old Six,Long Acre,other,share.depth,3.1,in\n"
        "a,,2031-10-04T07:30+02:00,Old Six,Long Acre,other,turbine_2.guard,tined,\n"
        "a,,2031-10-04T07:30+02:00,Old Six,Long Acre,other,driving.speed,2.9,mph\n"
        "c,a,2031-10-04T08:30+02:00,Old Six,Long Acre,,share.depth,4,display\n"
        "b,,2031-10-05,Old Six,,declined,,,\n");
    files["parts.csv"] =
        "machine,at,stage,what\nOld Six,2031-10-04,transfer,web mended\n"
        "Topper,2031-10-06T12:00+02:00,leaf_remover,flails\n";
    const auto season = must_read(files);
    ASSERT_EQ(season.settings.size(), 3U);
    expect_equal_seasons(season, must_read(write_season(season, GetParam())));
}

INSTANTIATE_TEST_SUITE_P(Units, MachineLogRoundTrip,
                         ::testing::Values(UnitSystem::metric, UnitSystem::us));

// As a tablet sends it: the machines are the season's.
TEST(Settings, AreReadAloneBesideTheSeasonTheyAreOf) {
    const auto season = must_read(folder());
    const FileTexts sent{
        {"settings.csv", kHeader + "a,,2031-10-04,Old Six,,,share.depth,4.5,display\n"},
        {"parts.csv", "machine,at,stage,what\nOld Six,2031-10-04,scalper,knives\n"}};
    const auto read = read_observation_rows(sent, season, {});
    ASSERT_TRUE(read.ok()) << read.problems()[0].text();
    EXPECT_NEAR(read->season.settings.at(0).controls.at(0).value, 0.080, 1e-12);
    EXPECT_EQ(read->season.parts.size(), 1U);
    const FileTexts wrong{{"settings.csv", kHeader + "a,,2031-10-04,Topper,,,share.depth,80,\n"}};
    EXPECT_FALSE(read_observation_rows(wrong, season, {}).ok());
}

}  // namespace
}  // namespace beetwright::io
