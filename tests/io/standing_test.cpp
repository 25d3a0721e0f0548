// standing.csv: what somebody found in a crop that still stands.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "io/schema_text.hpp"
#include "io/small_folder.hpp"
#include "season_equal.hpp"

namespace beetwright::io {
namespace {

FileTexts with_standing(std::string text) {
    auto files = small_folder();
    files["standing.csv"] = std::move(text);
    return files;
}

check::StandingLook must_read_one(std::string text) {
    const auto season = must_read(with_standing(std::move(text)));
    EXPECT_EQ(season.standing.size(), 1U);
    return season.standing.empty() ? check::StandingLook{} : season.standing[0];
}

TEST(Standing, ReadsAllThatALookCanSay) {
    const auto look = must_read_one(
        "field,at,spots,area [m2],roots [kg],pol [%],potassium [mmol/100 g],sodium [mmol/100 g],"
        "amino_nitrogen [mmol/100 g],leaf_sick [%],leaf_frozen,crowns [cm]\n"
        "Long Acre,2031-08-15,6,18,148.5,16.2,4.1,0.5,1.8,10,no,4 5.5 -1 0  7\n");
    EXPECT_EQ(look.field, "Long Acre");
    EXPECT_EQ(look.spots, 6);
    EXPECT_EQ(look.area, 18.0 * unit::m2);
    EXPECT_EQ(look.roots, CleanMass(148.5));
    EXPECT_NEAR(look.pol.si(), 0.162, 1e-15);
    EXPECT_NEAR(look.amino_nitrogen.si(), 0.018, 1e-15);
    EXPECT_NEAR(look.leaf_sick, 0.1, 1e-15);
    EXPECT_EQ(look.leaf_frozen, check::Seen::no);
    ASSERT_EQ(look.crowns.size(), 5U);
    EXPECT_NEAR(look.crowns[1] / unit::cm, 5.5, 1e-12);
    EXPECT_NEAR(look.crowns[2] / unit::cm, -1.0, 1e-12);
    EXPECT_EQ(look.crowns[3].si(), 0.0);
}

TEST(Standing, OneThingIsEnough) {
    EXPECT_EQ(must_read_one("field,at,leaf_frozen\nLong Acre,2031-10-30,yes\n").leaf_frozen,
              check::Seen::yes);
    EXPECT_EQ(must_read_one("field,at,leaf_sick [%]\nLong Acre,2031-09-01,0\n").leaf_sick, 0.0)
        << "none is something said";
    const auto sugar = must_read_one("field,at,pol [%]\nLong Acre,2031-09-01,16\n");
    EXPECT_EQ(sugar.spots, 0);
    EXPECT_FALSE(sugar.area.is_known());
    EXPECT_TRUE(std::isnan(sugar.leaf_sick));
    EXPECT_EQ(sugar.leaf_frozen, check::Seen::not_judged);
}

TEST(Standing, SaysHowTheCropStandsByEyeAlone) {
    const auto look = must_read_one(
        "field,at,soil_in_hand,crown_height [cm],evenness,plants [1/ha],root_mass [kg]\n"
        "Long Acre,2031-10-02,crumbly,-1.5,uneven,92000,0.85\n");
    EXPECT_EQ(look.soil_in_hand, check::SoilInHand::crumbly);
    EXPECT_NEAR(look.crown_height / unit::cm, -1.5, 1e-12);
    EXPECT_EQ(look.evenness, check::Evenness::uneven);
    EXPECT_NEAR(look.plants.si(), 9.2, 1e-12);
    EXPECT_EQ(look.root_mass, CleanMass(0.85));
    const auto us =
        must_read_one("field,at,plants [1/acre],root_mass [lb]\nLong Acre,2031-10-02,37000,2\n");
    EXPECT_NEAR(us.plants.si(), 37000.0 / 4046.8564224, 1e-9);
    EXPECT_NEAR(us.root_mass.si(), 0.90718474, 1e-9);
    for (const char* one :
         {"soil_in_hand\nLong Acre,2031-10-02,sticky\n",
          "crown_height [in]\nLong Acre,2031-10-02,2\n", "evenness\nLong Acre,2031-10-02,fair\n",
          "plants [1/m2]\nLong Acre,2031-10-02,9\n",
          "root_mass [kg]\nLong Acre,2031-10-02,0.9\n"}) {
        EXPECT_TRUE(must_read_one(std::string("field,at,") + one).says_how_it_stands()) << one;
    }
    expect_problem(with_standing("field,at,plants [1/ha]\nLong Acre,2031-10-02,920\n"),
                   "standing.csv", 2, "plants", "920 1/ha is not possible");
    expect_problem(with_standing("field,at,evenness\nLong Acre,2031-10-02,odd\n"), "standing.csv",
                   2, "evenness", "even, fair, uneven");
}

TEST(Standing, HeightsAreReadInTheUnitAndTheDecimalMarkOfTheFile) {
    const auto inches = must_read_one("field,at,crowns [in]\nLong Acre,2031-09-01,1.5 2 -0.5\n");
    ASSERT_EQ(inches.crowns.size(), 3U);
    EXPECT_NEAR(inches.crowns[0] / unit::inch, 1.5, 1e-12);
    EXPECT_NEAR(inches.crowns[2] / unit::inch, -0.5, 1e-12);
    const auto commas = must_read_one("field;at;crowns [cm]\nLong Acre;2031-09-01;4,5 6\n");
    ASSERT_EQ(commas.crowns.size(), 2U);
    EXPECT_NEAR(commas.crowns[0] / unit::cm, 4.5, 1e-12);
}

TEST(Standing, SaltsMayBeGivenPerSugarWherePolIsKnown) {
    const auto look = must_read_one(
        "field,at,pol [%],potassium [mg/100 g sugar]\nLong Acre,2031-09-01,16,1000\n");
    // 1 g of potassium in 100 g of sugar, 16 g of it in 100 g of beet; 39.098 g/mol.
    EXPECT_NEAR(look.potassium.si(), 0.01 * 0.16 / 0.0390983, 1e-6);
}

TEST(StandingRefuses, AHeightThatIsNone) {
    const std::string header = "field,at,crowns [cm]\n";
    expect_problem(with_standing(header + "Long Acre,2031-09-01,4 5 six 7\n"), "standing.csv", 2,
                   "crowns", "number 3: 'six'");
    expect_problem(with_standing(header + "Long Acre,2031-09-01,4 50 5\n" +
                                 "Mill Field,2031-09-01,4 5 6 -50.5\n"),
                   "standing.csv", 3, "crowns",
                   "number 4: -50.5 cm is not possible here. it must be from -50 to 50 cm");
    std::string many;
    for (int i = 0; i < 101; ++i) {
        many += " 5";
    }
    expect_problem(with_standing(header + "Long Acre,2031-09-01," + many + "\n"), "standing.csv", 2,
                   "crowns", "more than 100 numbers");
    many.resize(many.size() - 2);
    EXPECT_EQ(must_read_one(header + "Long Acre,2031-09-01," + many + "\n").crowns.size(), 100U);
    expect_problem(with_standing("field,at,crowns\nLong Acre,2031-09-01,5\n"), "standing.csv", 1,
                   "crowns", "does not say the unit");
}

TEST(StandingRefuses, ALookThatSaysNothing) {
    expect_problem(with_standing("field,at,spots,area [m2]\nLong Acre,2031-09-01,6,18\n"),
                   "standing.csv", 2, "roots", "says nothing of the crop");
}

TEST(StandingRefuses, PartsThatDoNotFit) {
    expect_problem(with_standing("field,at,roots [kg]\nLong Acre,2031-09-01,140\n"), "standing.csv",
                   2, "area", "dug from is missing");
    expect_problem(with_standing("field,at,area [m2],roots [kg]\nLong Acre,2031-09-01,2,61\n"),
                   "standing.csv", 2, "roots", "more beets than grow");
    expect_problem(with_standing("field,at,sodium [mg/100 g sugar]\nLong Acre,2031-09-01,40\n"),
                   "standing.csv", 2, "sodium", "per sugar, and pol is empty");
    expect_problem(with_standing("field,at,spots,pol [%]\nLong Acre,2031-09-01,2.5,16\n"),
                   "standing.csv", 2, "spots", "not a whole number");
}

TEST(StandingRefuses, TheSameLookTwice) {
    expect_problem(with_standing("field,at,crowns [cm]\nLong Acre,2031-09-01,4 5\n"
                                 "Long Acre,2031-09-01,4.0  5\n"),
                   "standing.csv", 3, "id", "says the same as line 2");
    // Heights in another order are another row of beets.
    EXPECT_EQ(must_read(with_standing("field,at,crowns [cm]\nLong Acre,2031-09-01,4 5\n"
                                      "Long Acre,2031-09-01,5 4\n"))
                  .standing.size(),
              2U);
}

TEST(Standing, ACorrectionNamesTheLookThatItCorrects) {
    const std::string id = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f";
    const auto season = must_read(
        with_standing("id,supersedes,field,at,leaf_sick [%]\n" + id +
                      ",,Long Acre,2031-09-01,5\n,017f22e2-79b0,Long Acre,2031-09-01,50\n"));
    ASSERT_EQ(season.standing.size(), 2U);
    EXPECT_EQ(season.standing[1].supersedes.text(), id);
}

class StandingRoundTrip : public ::testing::TestWithParam<UnitSystem> {};

TEST_P(StandingRoundTrip, GivesBackWhatWasWritten) {
    const auto season = must_read(with_standing(
        "field,at,spots,area [m2],roots [kg],pol [%],potassium [mmol/100 g],leaf_sick [%],"
        "leaf_frozen,crowns [cm],soil_in_hand,crown_height [cm],evenness,plants [1/ha],"
        "root_mass [lb]\nLong Acre,2031-08-15T09:30+02:00,6,18,148.5,16.2,4.1,,,,,,,,\n"
        "Long Acre,2031-08-15,,,,,,25,yes,,,,,,\nMill Field,2031-08-15,,,,,,,,4 5.5 -1 0 7.3,,,,,\n"
        "Mill Field,2031-10-02,,,,,,,,,hard,4.4,even,88123,1.77\n"));
    expect_equal_seasons(season, must_read(write_season(season, GetParam())));
}

INSTANTIATE_TEST_SUITE_P(Units, StandingRoundTrip,
                         ::testing::Values(UnitSystem::metric, UnitSystem::us));

TEST(Standing, TheSchemaSaysWhatAListHolds) {
    const auto json = schema_json("standing.csv");
    const auto crowns = json.substr(json.find("\"crowns\": {"));
    for (const char* words :
         {"\"type\": \"array\"", "\"maxItems\": 100", "\"minimum\": -50.0", "\"unit\": \"cm\""}) {
        EXPECT_NE(crowns.find(words), std::string::npos) << words << " in " << crowns;
    }
    EXPECT_NE(schema_markdown("standing.csv")
                  .find("| `crowns` | up to 100 numbers | cm or in | "
                        "-50 to 50 |"),
              std::string::npos);
}

}  // namespace
}  // namespace beetwright::io
