// covers.csv, probes.csv and removals.csv: what people write down of a pile while it stands.
#include <gtest/gtest.h>

#include <string>

#include "io/small_folder.hpp"
#include "ledger/evidence.hpp"

namespace beetwright::io {
namespace {

using check::PileCover;
using check::ProbeKind;

FileTexts folder() {
    auto files = small_folder();
    files["destinations.csv"] = "name,kind\nYard,pile\nHeap,pile\nWorks,factory\n";
    files["piles.csv"] =
        "name,base_width [m],top_width [m],height [m],length [m]\nYard,8,1,3.5,60\n";
    return files;
}
FileTexts with(const std::string& file, const std::string& text) {
    auto files = folder();
    files[file] = text;
    return files;
}
const std::string kCovers = "pile,at,from [m],to [m],cover\n";
const std::string kProbes = "pile,at,probe,kind,along [m],across [m],height [m],temperature [°C]\n";
FileTexts with_probe(const std::string& cells) {
    return with("probes.csv", kProbes + "Yard,2031-11-20T08:00+01:00,north lance," + cells + "\n");
}

TEST(Covers, LieOnAStretchFromThenOn) {
    const auto season = must_read(with("covers.csv", kCovers + "Yard,2031-11-20,,,fleece\n"
                                                               "Yard,2031-11-22,,40,plastic\n"
                                                               "Yard,2031-11-23,40,,straw\n"
                                                               "Heap,2031-11-24,5,300,strips\n"
                                                               "Heap,2031-12-02,,,none\n"));
    ASSERT_EQ(season.covers.size(), 5U);
    EXPECT_EQ(season.covers[0].cover, PileCover::fleece);
    EXPECT_FALSE(season.covers[0].stretch.from.is_known());
    EXPECT_FALSE(season.covers[0].stretch.to.is_known());
    EXPECT_EQ(season.covers[1].stretch.to, 40.0 * unit::m);
    EXPECT_EQ(season.covers[2].stretch.from, 40.0 * unit::m);
    EXPECT_EQ(season.covers[3].cover, PileCover::strips) << "nobody said how long the heap is";
    EXPECT_EQ(season.covers[4].cover, PileCover::none);
}

TEST(CoversRefuse, WhatLiesBesideThePile) {
    expect_problem(with("covers.csv", kCovers + "Yard,2031-11-20,40,70,fleece\n"), "covers.csv", 2,
                   "to", "which is 60 m (196.9 ft) long");
    expect_problem(with("covers.csv", kCovers + "Yard,2031-11-20,70,,fleece\n"), "covers.csv", 2,
                   "from", "which is 60 m");
    expect_problem(with("covers.csv", kCovers + "Heap,2031-11-20,70,7,fleece\n"), "covers.csv", 2,
                   "to", "ends at 7 m");
    expect_problem(with("covers.csv", kCovers + "Works,2031-11-20,,,fleece\n"), "covers.csv", 2,
                   "pile", "is a factory");
    expect_problem(with("covers.csv", kCovers + "Yart,2031-11-20,,,fleece\n"), "covers.csv", 2,
                   "pile", "did you mean");
    expect_problem(with("covers.csv", kCovers + "Yard,2031-11-20,,,tarpaulin\n"), "covers.csv", 2,
                   "cover", "none, fleece, straw, plastic, strips");
    expect_problem(with("covers.csv", kCovers + "Yard,2031-11-20,,,\n"), "covers.csv", 2, "cover",
                   "this is empty");
    auto nameless = small_folder();
    nameless["covers.csv"] = kCovers + "Yard,2031-11-20,,,fleece\n";
    expect_problem(nameless, "covers.csv", 2, "pile", "there is no destinations.csv");
}

TEST(Probes, SayWhereTheyReadAndWhat) {
    const auto season = must_read(
        with("probes.csv", kProbes + "Yard,2031-11-20T08:00+01:00,7,logger,12,-1.5,1.2,5.4\n"
                                     "Yard,2031-11-20T08:00+01:00,lance,,12,,2,6\n"
                                     "Heap,2031-11-21,north,surface,400,9,4,-3.5\n"));
    ASSERT_EQ(season.probes.size(), 3U);
    const auto& first = season.probes[0];
    EXPECT_EQ(first.probe, "7");
    EXPECT_EQ(first.kind, ProbeKind::logger);
    EXPECT_EQ(first.along, 12.0 * unit::m);
    EXPECT_EQ(first.across, -1.5 * unit::m);
    EXPECT_EQ(first.height, 1.2 * unit::m);
    EXPECT_NEAR(first.temperature.in_celsius(), 5.4, 1e-12);
    EXPECT_EQ(season.probes[1].kind, ProbeKind::lance);
    EXPECT_EQ(season.probes[1].across, Length::zero());
    EXPECT_EQ(season.probes[2].kind, ProbeKind::surface);
}

TEST(Probes, MayReadFahrenheit) {
    const auto season = must_read(
        with("probes.csv",
             "pile,at,probe,along [ft],height [ft],temperature [°F]\nYard,2031-11-20,1,40,4,41\n"));
    EXPECT_NEAR(season.probes.at(0).temperature.in_celsius(), 5.0, 1e-12);
}

// At half its height of 3.5 m it reaches 2.25 m from its middle line; beets lie 0.3 m unevenly.
TEST(ProbesRefuse, PlacesOutsideThePile) {
    must_read(with_probe("lance,60,2.5,1.75,5"));
    expect_problem(with_probe("lance,61,0,1,5"), "probes.csv", 2, "along", "which is 60 m");
    expect_problem(with_probe("lance,30,2.6,1.75,5"), "probes.csv", 2, "across",
                   "beside the pile, which reaches 2.25 m");
    expect_problem(with_probe("lance,30,-2.6,1.75,5"), "probes.csv", 2, "across", "beside");
    expect_problem(with_probe("lance,30,0,4,5"), "probes.csv", 2, "height", "is above the pile");
    expect_problem(with_probe("surface,30,1,3.7,5"), "probes.csv", 2, "across", "beside");
    must_read(with_probe("surface,30,0.5,3.7,5"));
}

TEST(ProbesRefuse, WhatWasReadOnTheOtherScale) {
    expect_problem(with_probe("lance,30,0,1,43"), "probes.csv", 2, "temperature",
                   "43 °C is not possible here. it must be from -40 to 40 °C; if it was read in "
                   "Fahrenheit, write [°F] in the header");
    // 400 is too hot for a pile on either scale.
    const auto boiling = read_season(with_probe("lance,30,0,1,400"));
    ASSERT_FALSE(boiling.ok());
    EXPECT_EQ(boiling.problems()[0].text().find("Fahrenheit"), std::string::npos);
    auto files = folder();
    files["temperatures.csv"] = "destination,day,mean [°C]\nYard,2031-10-04,64\n";
    expect_problem(files, "temperatures.csv", 2, "mean", "write [°F] in the header");
}

TEST(Removals, SayWhatWentAndFromWhere) {
    const auto season = must_read(with("removals.csv",
                                       "pile,at,from [m],to [m],gross [t]\n"
                                       "Yard,2031-12-20,0,12,180.5\nYard,2031-12-21,12,20,\n"
                                       "Heap,2031-12-22,,,400\n"));
    ASSERT_EQ(season.removals.size(), 3U);
    EXPECT_EQ(season.removals[0].stretch.to, 12.0 * unit::m);
    EXPECT_NEAR(season.removals[0].gross.si(), 180500.0, 1e-9);
    EXPECT_FALSE(season.removals[1].gross.is_known());
    EXPECT_FALSE(season.removals[2].stretch.from.is_known());
}

TEST(RemovalsRefuse, WhatIsNotThere) {
    expect_problem(with("removals.csv", "pile,at,from [m],to [m]\nYard,2031-12-20,50,80\n"),
                   "removals.csv", 2, "to", "which is 60 m");
}

TEST(PileLog, IsCorrectedLikeAllElse) {
    const auto first = must_read(with("covers.csv", kCovers + "Yard,2031-11-20,,,fleece\n"));
    auto files = folder();
    files["covers.csv"] = "supersedes,pile,at,cover\n,Yard,2031-11-20,fleece\n" +
                          first.covers.at(0).id.short_text() + ",Yard,2031-11-21,fleece\n";
    files["probes.csv"] =
        "id,supersedes,pile,at,probe,along [m],height [m],temperature [°C]\n"
        "017f22e2-79b0-7cc3-98c4-dc0c0c07398f,,Yard,2031-11-20,1,12,2,15\n"
        ",017f22e2-79b0-7cc3-98c4-dc0c0c07398f,Yard,2031-11-20,1,12,2,5\n";
    files["removals.csv"] =
        "id,supersedes,pile,at,gross [t]\n"
        "017f22e2-79b0-7cc3-98c4-dc0c0c073990,,Yard,2031-12-20,100\n"
        ",017f22e2-79b0-7cc3-98c4-dc0c0c073990,Yard,2031-12-20,120\n";
    const auto all = must_read(files);
    ASSERT_EQ(all.covers.size(), 2U);
    EXPECT_EQ(all.covers[1].supersedes, all.covers[0].id);
    EXPECT_EQ(ledger::count_observations(all), 6U);
    const auto standing = ledger::without_superseded(all);
    ASSERT_EQ(standing.covers.size(), 1U);
    ASSERT_EQ(standing.probes.size(), 1U);
    EXPECT_NEAR(standing.probes[0].temperature.in_celsius(), 5.0, 1e-12);
    ASSERT_EQ(standing.removals.size(), 1U);
    EXPECT_EQ(standing.removals[0].gross.si(), 120000.0);
}

// A tablet sends these tables alone; piles are the season's.
TEST(PileLog, IsReadBesideASeason) {
    const auto season = must_read(folder());
    const auto sent = [&](const std::string& cells) {
        return read_observation_rows(
            {{"probes.csv", kProbes + "Yard,2031-11-20T08:00+01:00,1," + cells + "\n"}}, season,
            {});
    };
    const auto read = sent("lance,30,0,1,5");
    ASSERT_TRUE(read.ok());
    EXPECT_EQ(read->season.probes.size(), 1U);
    const auto outside = sent("lance,30,6,1,5");
    ASSERT_FALSE(outside.ok());
    EXPECT_EQ(outside.problems()[0].where.field, "across");
    EXPECT_FALSE(read_observation_rows({{"piles.csv", "name\n"}}, season, {}).ok());
}

}  // namespace
}  // namespace beetwright::io
