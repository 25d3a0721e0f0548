#include "io/season_folder.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>

#include "demo_season/invent.hpp"
#include "io/small_folder.hpp"
#include "season_equal.hpp"

namespace beetwright::io {
namespace {

TEST(SeasonFolder, ReadsTheSmallestFolder) {
    const auto season = must_read(small_folder());
    EXPECT_EQ(season.name, "Trial");
    ASSERT_EQ(season.fields.size(), 2U);
    EXPECT_EQ(season.fields[0].name, "Long Acre");
    EXPECT_EQ(season.fields[0].area, 12.5 * unit::ha);
    EXPECT_FALSE(season.fields[0].lifted.has_value());
}

TEST(SeasonFolder, ReadsEitherSystemOfUnits) {
    auto files = small_folder();
    files["fields.csv"] = "name,area [acre],haul [mi]\nLong Acre,10,2\n";
    files["strips.csv"] = "field,at,area [sq ft],whole_roots [lb]\nLong Acre,2031-10-04,110,3\n";
    const auto season = must_read(files);
    EXPECT_NEAR(season.fields[0].area / unit::acre, 10.0, 1e-12);
    EXPECT_NEAR(season.fields[0].haul / unit::mile, 2.0, 1e-12);
    EXPECT_NEAR(season.strips[0].whole_roots.si(), 3.0 * 0.45359237, 1e-12);
    EXPECT_NEAR(season.strips[0].area / unit::square_foot, 110.0, 1e-9);
}

TEST(SeasonFolder, ReadsUnitsThatBeginAsTheCurrencyIsCalled) {
    auto files = small_folder();
    auto& facts = files["season.json"];
    facts.replace(facts.find("EUR"), 3, "h");
    EXPECT_EQ(must_read(files).fields[0].area, 12.5 * unit::ha);
}

TEST(SeasonFolder, ReadsDecimalCommasInSemicolonFiles) {
    auto files = small_folder();
    files["fields.csv"] = "name;area [ha]\r\nLong Acre;12,5\r\n";
    EXPECT_EQ(must_read(files).fields[0].area, 12.5 * unit::ha);
}

TEST(SeasonFolder, ReadsWindowsLetters) {
    auto files = small_folder();
    files["fields.csv"] =
        "name,area [ha]\nR\xFC"
        "ben,3\n";  // u with two dots in Windows-1252
    EXPECT_EQ(must_read(files).fields[0].name, "R\u00fcben");
}

TEST(SeasonFolder, ReadsDeclaredDays) {
    auto files = small_folder();
    files["fields.csv"] = "name,area [ha],lifted [dd.mm.yyyy]\nLong Acre,3,04.10.2031\n";
    EXPECT_EQ(to_text(*must_read(files).fields[0].lifted), "2031-10-04");
}

TEST(SeasonFolder, ReadsBreaksMeasuredAndInClasses) {
    auto files = small_folder();
    files["beets.csv"] =
        "sheet,field,at,spot,tip_break [cm]\n"
        "s1,Long Acre,2031-10-04,1,2.5\ns1,Long Acre,2031-10-04,1,whole\n"
        "s1,Long Acre,2031-10-04,1,2-4\ns1,Long Acre,2031-10-04,2,>8\ns1,Long Acre,2031-10-04,2,\n";
    const auto season = must_read(files);
    ASSERT_EQ(season.beet_sheets.size(), 1U);
    const auto& beets = season.beet_sheets[0].beets;
    ASSERT_EQ(beets.size(), 5U);
    EXPECT_EQ(beets[0].tip.from, 2.5 * unit::cm);
    EXPECT_EQ(beets[1].tip.to.si(), 0.0);
    EXPECT_EQ(beets[2].tip.from, 2.0 * unit::cm);
    EXPECT_EQ(beets[2].tip.to, 4.0 * unit::cm);
    EXPECT_TRUE(std::isinf(beets[3].tip.to.si()));
    EXPECT_FALSE(beets[4].tip.is_judged());
}

TEST(SeasonFolder, DealsSpotsOutToTheirBeets) {
    auto files = small_folder();
    files["spots.csv"] =
        "sheet,field,at,spot,beets,correct,too_deep,tip_whole,tip_2_4,rot\n"
        "s1,Long Acre,2031-10-04,1,10,8,2,6,4,1\n";
    const auto season = must_read(files);
    const auto& beets = season.beet_sheets.at(0).beets;
    ASSERT_EQ(beets.size(), 10U);
    EXPECT_EQ(std::ranges::count(beets, check::Topping::too_deep, &check::CountedBeet::topping), 2);
    EXPECT_EQ(std::ranges::count(beets, check::Seen::yes, &check::CountedBeet::rot), 1);
    EXPECT_EQ(std::ranges::count_if(beets, [](const auto& b) { return b.tip.to > Length(0.0); }),
              4);
}

TEST(SeasonFolder, ReadsBeetsLookedAtInTheRow) {
    auto files = small_folder();
    files["beets.csv"] =
        "sheet,field,at,seen_at,spot,topping,scar [cm],tip_break [cm],skin_damage [cm2]\n"
        "s1,Long Acre,2031-10-04,row,1,too deep,7,,\n";
    files["spots.csv"] =
        "sheet,field,at,seen_at,spot,beets,correct,tip_whole,tip_2_4\n"
        "s2,Long Acre,2031-10-04,row,1,10,9,,0\n";
    const auto season = must_read(files);
    ASSERT_EQ(season.beet_sheets.size(), 2U);
    EXPECT_EQ(season.beet_sheets[0].seen_at, check::SeenAt::row);
    EXPECT_EQ(season.beet_sheets[1].seen_at, check::SeenAt::row);
    EXPECT_FALSE(season.beet_sheets[0].beets.at(0).tip.is_judged());
}

TEST(SeasonFolderRefuses, WhatCannotBeJudgedInTheRow) {
    const auto beet = [](const std::string& cells) {
        auto files = small_folder();
        files["beets.csv"] =
            "sheet,field,at,seen_at,spot,tip_break [cm],skin_damage [cm2]\n"
            "s1,Long Acre,2031-10-04,row,1," +
            cells + "\n";
        return files;
    };
    expect_problem(beet("whole,"), "beets.csv", 2, "tip_break", "stands in the row");
    expect_problem(beet(",4"), "beets.csv", 2, "skin_damage", "stands in the row");
    auto files = small_folder();
    files["spots.csv"] =
        "sheet,field,at,seen_at,spot,beets,tip_2_4\ns1,Long Acre,2031-10-04,row,1,10,3\n";
    expect_problem(files, "spots.csv", 2, "tip_2_4", "stands in the row");
}

TEST(SeasonFolder, ReadsLaboratoryUnitsPerElement) {
    // 1 mmol/100 g is 390.98 mg/kg of K, 229.90 of Na, 140.07 of N.
    auto files = small_folder();
    files["labs.csv"] =
        "field,at,pol [%],potassium [mg/kg],sodium [mmol/kg],amino_nitrogen [ppm]\n"
        "Long Acre,2031-10-04,17.5,390.98,10,140.07\n";
    const auto lab = must_read(files).labs.at(0);
    EXPECT_NEAR(lab.potassium / unit::mmol_per_100g, 1.0, 1e-9);
    EXPECT_NEAR(lab.sodium / unit::mmol_per_100g, 1.0, 1e-12);
    EXPECT_NEAR(lab.amino_nitrogen / unit::mmol_per_100g, 1.0, 1e-9);
    // Per sugar: 390.98 mg/kg of beet with 17.5 % sugar is 39.098 mg in 100 g, 223.417 mg per 100 g
    // of its sugar. meq: one charge each.
    files["labs.csv"] =
        "field,at,pol [%],potassium [mg/100 g sugar],sodium [meq/100 g],amino_nitrogen [mg/100 g "
        "sugar]\n"
        "Long Acre,2031-10-04,17.5,223.4171,1,\n";
    const auto per_sugar = must_read(files).labs.at(0);
    EXPECT_NEAR(per_sugar.potassium / unit::mmol_per_100g, 1.0, 1e-6);
    EXPECT_NEAR(per_sugar.sodium / unit::mmol_per_100g, 1.0, 1e-12);
    EXPECT_FALSE(per_sugar.amino_nitrogen.is_known());
    files["labs.csv"] = "field,at,pol [%],potassium [mg/l]\nLong Acre,2031-10-04,17.5,200\n";
    expect_problem(files, "labs.csv", 1, "potassium", "mg/100 g sugar");
}

// --- what must be refused, each with its place and a way out ------------------------------------

TEST(SeasonFolderRefuses, AFolderHalfCopied) {
    auto files = small_folder();
    files.erase("fields.csv");
    expect_problem(files, "fields.csv", 0, "", "missing");
    files = small_folder();
    files.erase("season.json");
    expect_problem(files, "season.json", 0, "", "missing");
}

TEST(SeasonFolderRefuses, AFileCutOff) {
    auto files = small_folder();
    files["fields.csv"] = "name,area [ha]\nLong Acre,12.5\nMill";
    expect_problem(files, "fields.csv", 3, "", "cut off");
    files["fields.csv"] = "name,area [ha]\n\"Long Acre,12.5\nMill Field,8\n";
    expect_problem(files, "fields.csv", 2, "", "never closed; the file may be cut off");
    files["fields.csv"] = "";
    expect_problem(files, "fields.csv", 0, "", "the file is empty");
    files = small_folder();
    files["season.json"] = "{\n\"beetwright_season\": 1,\n\"name\": \"Tri";
    expect_problem(files, "season.json", 3, "", "not JSON");
    files["season.json"] = std::string(kSeason) + "\n";
    files["terms.json"] = "{\n\"beetwright_terms\": 1,\n";
    expect_problem(files, "terms.json", 3, "", "not JSON");
}

TEST(SeasonFolderRefuses, AWrongOrMissingUnit) {
    auto files = small_folder();
    files["fields.csv"] = "name,area [kg]\nLong Acre,12.5\n";
    expect_problem(files, "fields.csv", 1, "area", "'kg' is not a unit that belongs here");
    files["fields.csv"] = "name,area\nLong Acre,12.5\n";
    expect_problem(files, "fields.csv", 1, "area", "does not say the unit");
}

TEST(SeasonFolderRefuses, AColumnItDoesNotKnowOrMisses) {
    auto files = small_folder();
    files["fields.csv"] = "name,aria [ha]\nLong Acre,12.5\n";
    expect_problem(files, "fields.csv", 1, "aria", "not known here. did you mean \"area\"?");
    expect_problem(files, "fields.csv", 1, "area", "missing");
}

TEST(SeasonFolder, PassesOverColumnsInBrackets) {
    auto files = small_folder();
    files["fields.csv"] =
        "(who drove there; his van),name,area [ha],(remarks [kg])\nx,Long Acre,12.5,\n";
    const auto season = read_season(files);
    ASSERT_TRUE(season) << season.problems().front().what;
    ASSERT_EQ(season->fields.size(), 1U);
    EXPECT_EQ(season->fields[0].name, "Long Acre");
    EXPECT_DOUBLE_EQ(season->fields[0].area.si(), 125000.0);
    files["fields.csv"] = "(name),area [ha]\nLong Acre,12.5\n";
    expect_problem(files, "fields.csv", 1, "name", "missing");
    files["fields.csv"] = "name,area [ha],driver\nLong Acre,12.5,x\n";
    expect_problem(files, "fields.csv", 1, "driver", "put in brackets: (driver)");
}

TEST(SeasonFolderRefuses, AWrongDelimiter) {
    auto files = small_folder();
    files["fields.csv"] = "name|area [ha]\nLong Acre|12.5\n";
    expect_problem(files, "fields.csv", 1, "",
                   "parted by '|'. save it with commas, semicolons or tabs");
    EXPECT_EQ(read_season(files).problems().size(), 1U) << "the cause alone is told";
    // A decimal comma in a file of commas: a cell too many.
    files["fields.csv"] = "name,area [ha]\nLong Acre,12,5\n";
    expect_problem(files, "fields.csv", 2, "", "3 cells where the header has 2");
}

TEST(SeasonFolderRefuses, AWrongEncoding) {
    auto files = small_folder();
    files["fields.csv"] = std::string("\xFF\xFEn\0a\0m\0e\0", 10);
    const auto season = read_season(files);
    ASSERT_FALSE(season.ok());
    EXPECT_NE(season.problems()[0].text().find("UTF-16"), std::string::npos)
        << season.problems()[0].text();
    // Windows-1252 leaves 0x81 out.
    files["fields.csv"] =
        "name,area [ha]\nLong Acre,2\nR\x81"
        "ben,3\n";
    expect_problem(files, "fields.csv", 3, "", "neither UTF-8 nor Windows-1252");
    // Two files joined, the first in UTF-8: read as Windows-1252 its name would be nonsense.
    files["fields.csv"] =
        "name,area [ha]\nR\u00fcben,2\nR\xFC"
        "be,3\n";
    expect_problem(files, "fields.csv", 3, "", "not UTF-8, as others are");
}

TEST(SeasonFolderRefuses, DuplicateIdsAndNames) {
    auto files = small_folder();
    files["fields.csv"] = "name,area [ha]\nLong Acre,12.5\nLong Acre,3\n";
    expect_problem(files, "fields.csv", 3, "name", "line 2");
    files = small_folder();
    const std::string id = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f";
    files["tares.csv"] = "id,field,at,gross [kg],soil [kg]\n" + id +
                         ",Long Acre,2031-10-04,20,1\n" + id + ",Long Acre,2031-10-04,21,1\n";
    expect_problem(files, "tares.csv", 3, "id", "line 2");
}

TEST(SeasonFolderRefuses, ASpotCountedTwice) {
    auto files = small_folder();
    files["spots.csv"] =
        "sheet,field,at,spot,beets\ns1,Long Acre,2031-10-04,1,10\n"
        "s2,Long Acre,2031-10-04,1,10\ns1,Long Acre,2031-10-04,1,9\n";
    expect_problem(files, "spots.csv", 4, "spot", "stands on line 2 already");
}

TEST(SeasonFolderRefuses, ImpossibleValues) {
    auto files = small_folder();
    files["labs.csv"] = "field,at,pol [%]\nLong Acre,2031-10-04,180\n";
    expect_problem(files, "labs.csv", 2, "pol", "180 % is not possible");
    files = small_folder();
    files["spots.csv"] = "sheet,field,at,spot,beets,too_deep\ns1,Long Acre,2031-10-04,1,10,12\n";
    expect_problem(files, "spots.csv", 2, "too_deep", "10 beets were judged");
    files["spots.csv"] = "sheet,field,at,spot,beets,too_deep\ns1,Long Acre,2031-10-04,1,10,2.5\n";
    expect_problem(files, "spots.csv", 2, "too_deep", "2.5 is not a whole number");
    files["spots.csv"] = "sheet,field,at,spot,beets,rot\ns1,Long Acre,2031-10-04,1,0,0\n";
    expect_problem(files, "spots.csv", 2, "beets", "0 is not possible here. it must be from 1 to");
    files = small_folder();
    files["tares.csv"] = "field,at,gross [kg],soil [kg]\nLong Acre,2031-10-04,20,25\n";
    expect_problem(files, "tares.csv", 2, "soil", "whole sample");
    files = small_folder();
    files["tares.csv"] = "field,at,gross [kg],soil [kg]\nLong Acre,2031-10-04,20,-1\n";
    expect_problem(files, "tares.csv", 2, "soil", "not possible");
    files = small_folder();
    files["fields.csv"] = "name,area [ha],lifted,sliced\nLong Acre,3,2031-10-04,2031-10-01\n";
    expect_problem(files, "fields.csv", 2, "sliced", "before it was lifted");
}

TEST(SeasonFolderRefuses, ANumberThatMayBeMisread) {
    auto files = small_folder();
    files["fields.csv"] = "name,area [ha]\nLong Acre,\"1,234.5\"\n";
    EXPECT_FALSE(read_season(files).ok());
    files["fields.csv"] = "name,area [ha]\nLong Acre,twelve\n";
    expect_problem(files, "fields.csv", 2, "area", "twelve");
}

TEST(SeasonFolderRefuses, ADayThatMayBeTwo) {
    auto files = small_folder();
    files["fields.csv"] = "name,area [ha],lifted\nLong Acre,3,04/10/2031\n";
    EXPECT_FALSE(read_season(files).ok());
}

TEST(SeasonFolderRefuses, AYearThatIsASlipOfThePen) {
    auto files = small_folder();
    files["fields.csv"] = "name,area [ha],lifted [dd.mm.yyyy]\nLong Acre,12.5,04.12.0031\n";
    expect_problem(files, "fields.csv", 2, "lifted", "not of our time");
    files["fields.csv"] = "name,area [ha],lifted\nLong Acre,12.5,3021-12-04\n";
    expect_problem(files, "fields.csv", 2, "lifted", "not of our time");
}

TEST(SeasonFolderRefuses, GapsInTemperatures) {
    auto files = small_folder();
    files["destinations.csv"] = "name,kind\nNorth pile,pile\n";
    files["temperatures.csv"] =
        "destination,day,mean [°C]\nNorth pile,2031-10-01,9\nNorth pile,2031-10-03,8\n";
    expect_problem(files, "temperatures.csv", 3, "day", "2031-10-02");
}

TEST(SeasonFolderRefuses, NamesNobodyIntroduced) {
    auto files = small_folder();
    files["machines.csv"] = "name\nRed six-row\n";
    files["destinations.csv"] = "name,kind\nNorth pile,pile\n";
    files["temperatures.csv"] =
        "destination,day,mean [°C]\nNorth pil,2031-10-01,9\nNorth pil,2031-10-02,9\n";
    files["fields.csv"] =
        "name,area [ha],machine,destination\nLong Acre,12.5,Red siz-row,Elsewhere\n";
    files["loads.csv"] =
        "field,at,destination,gross [t]\n,2031-10-04,North pile,20\n"
        "Long Acre,2031-10-04,Nort pile,20\n";
    files["beets.csv"] = "sheet,field,machine,at,spot\ns1,Long Arce,Red sixrow,2031-10-04,1\n";
    files["spots.csv"] =
        "sheet,field,machine,at,spot,beets\ns2,Long Acre,Red,2031-10-04,1,9\n"
        "s3,Mill Field,Red,2031-10-04,1,9\n";
    files["strips.csv"] =
        "field,machine,at,area [m2],whole_roots [kg]\n"
        "Nowhere,Red six row,2031-10-04,10,0\n";
    files["tares.csv"] = "field,at,gross [kg],soil [kg]\nLong Acker,2031-10-04,20,1\n";
    files["labs.csv"] = "field,at,pol [%]\nlong acre,2031-10-04,17\n";
    expect_problem(files, "fields.csv", 2, "machine", "did you mean \"Red six-row\"?");
    expect_problem(files, "fields.csv", 2, "destination",
                   "\"Elsewhere\" is not in destinations.csv. Mend it here");
    expect_problem(files, "temperatures.csv", 2, "destination", "did you mean \"North pile\"?");
    expect_problem(files, "loads.csv", 3, "destination", "did you mean \"North pile\"?");
    expect_problem(files, "beets.csv", 2, "field", "did you mean \"Long Acre\"?");
    expect_problem(files, "beets.csv", 2, "machine", "\"Red sixrow\" is not in machines.csv");
    expect_problem(files, "spots.csv", 2, "machine", "(it stands in later lines too)");
    expect_problem(files, "spots.csv", 3, "field", "\"Mill Field\" is not in fields.csv");
    expect_problem(files, "strips.csv", 2, "field", "\"Nowhere\" is not in fields.csv");
    expect_problem(files, "strips.csv", 2, "machine", "did you mean \"Red six-row\"?");
    expect_problem(files, "tares.csv", 2, "field", "did you mean \"Long Acre\"?");
    expect_problem(files, "labs.csv", 2, "field", "did you mean \"Long Acre\"?");
    // Those twelve, and the load without a field: nothing is told twice, nor of another table.
    EXPECT_EQ(read_season(files).problems().size(), 13U);
}

// A field whose own row is at fault is no stranger where it is used.
TEST(SeasonFolderRefuses, AFaultOnceAndNotWhereverItsNameIsUsed) {
    auto files = small_folder();
    files["labs.csv"] = "field,at,pol [%]\nLong Acre,2031-10-04,17\nMill Field,2031-10-04,17\n";
    for (const std::string fields : {"name,area [ha]\nLong Acre,-3\nMill Field,8\n",
                                     "name,area [ha]\nLong Acre,12.5\nMill Field\n",
                                     "name,area [kg]\nLong Acre,12.5\nMill Field,8\n"}) {
        files["fields.csv"] = fields;
        const auto season = read_season(files);
        ASSERT_FALSE(season.ok());
        ASSERT_EQ(season.problems().size(), 1U) << season.problems()[1].text();
        EXPECT_EQ(season.problems()[0].where.file, "fields.csv");
    }
}

TEST(SeasonFolderRefuses, TemperaturesOfPlacesThatNoTableNames) {
    auto files = small_folder();
    files["temperatures.csv"] = "destination,day,mean [°C]\nNorth pile,2031-10-01,9\n";
    expect_problem(files, "temperatures.csv", 2, "destination", "no destinations.csv");
}

TEST(SeasonFolderRefuses, ASheetThatContradictsItself) {
    auto files = small_folder();
    files["beets.csv"] =
        "sheet,field,at,spot\ns1,Long Acre,2031-10-04,1\ns1,Mill Field,2031-10-04,1\n";
    expect_problem(files, "beets.csv", 3, "sheet", "line 2");
}

TEST(SeasonFolderRefuses, AWordItDoesNotKnow) {
    auto files = small_folder();
    files["beets.csv"] = "sheet,field,at,spot,topping\ns1,Long Acre,2031-10-04,1,fine\n";
    expect_problem(files, "beets.csv", 2, "topping", "'fine'");
}

TEST(SeasonFolderRefuses, HalfAClassOfBreaks) {
    for (const std::string half : {">", "2-"}) {
        auto files = small_folder();
        files["beets.csv"] =
            "sheet,field,at,spot,tip_break [cm]\ns1,Long Acre,2031-10-04,1," + half + "\n";
        expect_problem(files, "beets.csv", 2, "tip_break", "write the whole of it");
    }
}

TEST(SeasonFolderRefuses, AConstantThatIsNone) {
    auto files = small_folder();
    files["constants.csv"] = "id,value,low,high\ntip.loss,9,8,10\n";
    expect_problem(files, "constants.csv", 2, "id", "no constant");
}

TEST(SeasonFolderRefuses, OneSheetInBothTables) {
    auto files = small_folder();
    files["beets.csv"] = "sheet,field,at,spot\ns1,Long Acre,2031-10-04,1\n";
    files["spots.csv"] = "sheet,field,at,spot,beets\ns1,Long Acre,2031-10-04,1,10\n";
    expect_problem(files, "spots.csv", 2, "sheet", "beets.csv already");
}

TEST(SeasonFolderRefuses, AUnitWhereNoneBelongs) {
    auto files = small_folder();
    files["fields.csv"] = "name [x],area [ha]\nLong Acre,3\n";
    expect_problem(files, "fields.csv", 1, "name", "no unit");
}

// What stands under `supersedes`: a whole id, the beginning that people see, or a sheet's name.
TEST(SeasonFolder, FindsTheRowThatACorrectionMeans) {
    const std::string id = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f";
    for (const auto& means : {id, std::string("017f22e2-79b0"), std::string("017F22E2")}) {
        auto files = small_folder();
        files["labs.csv"] = "id,supersedes,field,at,pol [%]\n," + means +
                            ",Long Acre,2031-10-04,17\n" + id + ",,Long Acre,2031-10-04,16\n";
        const auto season = must_read(files);
        ASSERT_EQ(season.labs.size(), 2U);
        EXPECT_EQ(season.labs[0].supersedes, season.labs[1].id) << means;
    }
    auto files = small_folder();
    files["beets.csv"] =
        "sheet,supersedes,field,at,spot\ns1,,Long Acre,2031-10-04,1\n"
        "s2,s1,Long Acre,2031-10-04,1\ns2,s1,Long Acre,2031-10-04,2\n";
    const auto season = must_read(files);
    EXPECT_EQ(season.beet_sheets.at(1).supersedes, season.beet_sheets.at(0).id);
}

TEST(SeasonFolder, MayCorrectWhatTheSeasonHoldsAlready) {
    auto files = small_folder();
    files["spots.csv"] = "sheet,supersedes,field,at,spot,beets\ns2,s1,Long Acre,2031-10-04,1,9\n";
    KnownIds known;
    known[static_cast<std::size_t>(Observed::sheet)] = {sheet_id("s1", "Mill Field"),
                                                        sheet_id("s1", "Long Acre")};
    const auto reading = read_season_rows(files, known);
    ASSERT_TRUE(reading.ok());
    EXPECT_EQ(reading->season.beet_sheets.at(0).supersedes, sheet_id("s1", "Long Acre"));
    expect_problem(files, "spots.csv", 2, "supersedes", "nothing that can be corrected here");
}

TEST(SeasonFolderRefuses, CorrectionsOfNothingOfThemselvesOrTwice) {
    const std::string a = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f";
    const std::string b = "017f22e2-79b1-7cc3-98c4-dc0c0c07398f";
    const std::string c = "017f22e2-79b2-7cc3-98c4-dc0c0c07398f";
    const auto labs = [&](const std::string& of_a, const std::string& of_b,
                          const std::string& of_c) {
        auto files = small_folder();
        files["labs.csv"] = "id,supersedes,field,at,pol [%]\n" + a + "," + of_a +
                            ",Long Acre,2031-10-04,17\n" + b + "," + of_b +
                            ",Long Acre,2031-10-04,17\n" + c + "," + of_c +
                            ",Long Acre,2031-10-04,17\n";
        return files;
    };
    EXPECT_TRUE(read_season(labs("", a, b)).ok());
    expect_problem(labs("", a, "017f22e2"), "labs.csv", 4, "supersedes", "may mean 3 rows");
    expect_problem(labs("", "", "017f"), "labs.csv", 4, "supersedes", "called \"017f\"");
    expect_problem(labs("", "", "88888888"), "labs.csv", 4, "supersedes", "called \"88888888\"");
    expect_problem(labs(a, "", ""), "labs.csv", 2, "supersedes", "corrects itself");
    expect_problem(labs(c, a, b), "labs.csv", 4, "supersedes", "corrects itself");
    expect_problem(labs("", a, a), "labs.csv", 4, "supersedes", "line 3 corrects the same row");
}

TEST(SeasonFolder, PassesOverRowsOfSeparators) {
    auto files = small_folder();
    files["fields.csv"] = "name,area [ha]\nLong Acre,3\n,\n , \n";
    EXPECT_EQ(must_read(files).fields.size(), 1U);
}

TEST(SeasonFolderRefuses, ATableUnderANameNobodyKnows) {
    const auto folder = std::filesystem::temp_directory_path() / "beetwright_misspelt_test";
    std::filesystem::remove_all(folder);
    ASSERT_TRUE(
        write_season_folder(must_read(small_folder()), folder.string(), UnitSystem::metric).ok());
    std::ofstream(folder / "beet.csv") << "sheet,field,at,spot\n";
    const auto season = read_season_folder(folder.string());
    ASSERT_FALSE(season.ok());
    EXPECT_NE(season.problems()[0].text().find("beet.csv"), std::string::npos);
    EXPECT_NE(season.problems()[0].text().find("did you mean \"beets.csv\"?"), std::string::npos);
    // The rest is read all the same, so that its faults are told with it.
    std::ofstream(folder / "labs.csv") << "field,at,pol [%]\nLong Acre,2031-10-04,180\n";
    const auto both = read_season_folder(folder.string());
    ASSERT_FALSE(both.ok());
    EXPECT_EQ(both.problems().size(), 2U);
    std::filesystem::remove_all(folder);
}

TEST(SeasonFolder, IsNotWrittenOverAnothersTables) {
    const auto folder = std::filesystem::temp_directory_path() / "beetwright_overwrite_test";
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder);
    std::ofstream(folder / "spots.csv") << "sheet,field,at,spot,beets\n";
    const auto written =
        write_season_folder(must_read(small_folder()), folder.string(), UnitSystem::metric);
    ASSERT_FALSE(written.ok());
    EXPECT_FALSE(std::filesystem::exists(folder / "fields.csv"));
    std::filesystem::remove_all(folder);
}

TEST(SeasonFolder, ThatCannotBePutInPlaceIsNotSaidToBeAsItWas) {
    const auto folder = std::filesystem::temp_directory_path() / "beetwright_in_the_way_test";
    std::filesystem::remove_all(folder);
    std::filesystem::create_directories(folder / "season.json" / "in the way");
    const auto written =
        write_season_folder(must_read(small_folder()), folder.string(), UnitSystem::metric);
    ASSERT_FALSE(written.ok());
    EXPECT_NE(written.problems()[0].text().find("season.json: this file could not be put in place; "
                                                "others may be new already"),
              std::string::npos)
        << written.problems()[0].text();
    EXPECT_TRUE(std::filesystem::exists(folder / "fields.csv"));
    EXPECT_FALSE(std::filesystem::exists(folder / "season.json.part"));
    std::filesystem::remove_all(folder);
}

TEST(SeasonFolderRefuses, AFolderWhereAFileShouldBe) {
    const auto folder = std::filesystem::temp_directory_path() / "beetwright_folder_for_file_test";
    std::filesystem::remove_all(folder);
    ASSERT_TRUE(
        write_season_folder(must_read(small_folder()), folder.string(), UnitSystem::metric).ok());
    std::filesystem::create_directories(folder / "labs.csv");
    const auto season = read_season_folder(folder.string());
    ASSERT_FALSE(season.ok());
    EXPECT_EQ(season.problems()[0].kind, ProblemKind::outside);
    EXPECT_EQ(season.problems()[0].text(),
              (folder / "labs.csv").string() +
                  ": this file could not be read. see that it is a file, and who may read it");
    std::filesystem::remove_all(folder);
}

TEST(SeasonFolder, ListsEveryProblemAtOnce) {
    auto files = small_folder();
    files["fields.csv"] = "name,area [ha]\nLong Acre,x\nMill Field,-3\n,4\n";
    files["labs.csv"] = "field,at,pol [%]\nLong Acre,2031-13-04,17\n";
    const auto season = read_season(files);
    ASSERT_FALSE(season.ok());
    EXPECT_GE(season.problems().size(), 4U);
}

// --- round trips --------------------------------------------------------------------------------

class DemoRoundTrip : public ::testing::TestWithParam<UnitSystem> {};

TEST_P(DemoRoundTrip, GivesBackTheSeasonThatWasWritten) {
    const auto invented = demo::invent(3, GetParam(), demo::loss_physics(Catalogue{}));
    const auto files = write_season(invented.season, GetParam());
    const auto back = must_read(files);
    expect_equal_seasons(invented.season, back);
    // And what is written again is the same to the byte.
    EXPECT_EQ(write_season(back, GetParam()), files);
}

INSTANTIATE_TEST_SUITE_P(Units, DemoRoundTrip,
                         ::testing::Values(UnitSystem::metric, UnitSystem::us));

TEST(SeasonFolder, WithoutTermsGivesBackNone) {
    const auto season = must_read(small_folder());
    EXPECT_EQ(season.terms.currency, "EUR");
    const auto files = write_season(season, UnitSystem::metric);
    EXPECT_FALSE(files.contains("terms.json"));
    EXPECT_EQ(files.size(), 2U);
    EXPECT_EQ(write_season(must_read(files), UnitSystem::metric), files);
}

// Nobody knows the price yet, but the contract's mass and slide are known: they must not be lost.
TEST(SeasonFolder, GivesBackTermsThatDoNotPayYet) {
    auto files = small_folder();
    files["terms.json"] =
        R"({"beetwright_terms": 1, "name": "Next year", "currency": "EUR", "base_price": null,
            "slide": [{"from": "14 %", "to": "16 %", "percent_per_point": 10}],
            "quota": {"contracted": "500 t", "price_beyond": "20 EUR/t"}})";
    const auto back = write_season(must_read(files), UnitSystem::metric);
    ASSERT_TRUE(back.contains("terms.json"));
    const auto terms = must_read(back).terms;
    EXPECT_EQ(terms.name, "Next year");
    EXPECT_EQ(terms.slide.size(), 1U);
    EXPECT_NEAR(terms.quota->contracted.si(), 500e3, 1e-6);
    EXPECT_FALSE(terms.pay());
}

TEST(SeasonFolderRefuses, TermsInAnotherCurrency) {
    auto files = small_folder();
    files["terms.json"] = R"({"beetwright_terms": 1, "currency": "USD", "base_price": "40 USD/t"})";
    expect_problem(files, "terms.json", 0, "currency",
                   "the terms pay in USD, and season.json says EUR. write the same currency");
}

TEST(SeasonFolder, RoundTripsOnDisk) {
    const auto folder = std::filesystem::temp_directory_path() / "beetwright_folder_test";
    std::filesystem::remove_all(folder);
    const auto season = must_read(small_folder());
    ASSERT_TRUE(write_season_folder(season, folder.string(), UnitSystem::metric).ok());
    const auto back = read_season_folder(folder.string());
    ASSERT_TRUE(back.ok());
    expect_equal_seasons(season, *back);
    for (const auto& file : std::filesystem::directory_iterator(folder)) {
        EXPECT_NE(file.path().extension(), ".part") << "left behind";
    }
    std::filesystem::remove_all(folder);
}

TEST(SeasonFolder, IsNotThere) {
    const auto season = read_season_folder("/nowhere/at/all");
    ASSERT_FALSE(season.ok());
    EXPECT_EQ(season.problems()[0].kind, ProblemKind::missing);
}

}  // namespace
}  // namespace beetwright::io
