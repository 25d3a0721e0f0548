// What is seen now, as parameters of a question: in the words, units and bounds of the season's
// table.
#include "io/seen_parameters.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <string>

namespace beetwright::io {
namespace {

struct Read {
    std::optional<check::StandingLook> look;
    Problems problems;
};
Read read(const std::map<std::string, std::string>& said) {
    Parameters parameters({"setup", "", kSeenParameters}, said);
    auto look = seen_in(parameters);
    return {std::move(look), parameters.problems()};
}

TEST(SeenParameters, AreALook) {
    const auto [look, problems] = read({{"soil_in_hand", "sticky"},
                                        {"crown_height", "9"},
                                        {"evenness", "fair"},
                                        {"root_mass", "0.9kg"},
                                        {"leaf_sick", "30"},
                                        {"leaf_frozen", "no"}});
    ASSERT_TRUE(problems.empty()) << problems.front().text();
    ASSERT_TRUE(look);
    EXPECT_EQ(look->soil_in_hand, check::SoilInHand::sticky);
    EXPECT_NEAR(look->crown_height.si(), 0.09, 1e-15);
    EXPECT_EQ(look->evenness, check::Evenness::fair);
    EXPECT_NEAR(look->root_mass.si(), 0.9, 1e-15);
    EXPECT_NEAR(look->leaf_sick, 0.3, 1e-15);
    EXPECT_EQ(look->leaf_frozen, check::Seen::no);
}

TEST(SeenParameters, MayHaveUnitsOfEitherSystem) {
    const auto [look, problems] = read({{"crown_height", "3.5 in"}, {"root_mass", "2lb"}});
    ASSERT_TRUE(problems.empty());
    EXPECT_NEAR(look->crown_height.si(), 3.5 * 0.0254, 1e-12);
    EXPECT_NEAR(look->root_mass.si(), 2.0 * 0.45359237, 1e-12);
}

TEST(SeenParameters, NothingSaidIsNoLook) {
    EXPECT_FALSE(read({}).look);
    const auto [look, problems] = read({{"soil_in_hand", "hard"}});
    EXPECT_TRUE(std::isnan(look->leaf_sick));
    EXPECT_FALSE(look->crown_height.is_known());
    EXPECT_EQ(look->leaf_frozen, check::Seen::not_judged);
}

TEST(SeenParameters, WhatIsWrongIsToldByName) {
    const auto problems = read({{"soil_in_hand", "muddy"},
                                {"crown_height", "9 kg"},
                                {"root_mass", "80"},
                                {"leaf_sick", "much"},
                                {"evenness", "Even"}})
                              .problems;
    ASSERT_EQ(problems.size(), 5u);
    const auto of = [&](const std::string& field) {
        const auto found = std::ranges::find_if(
            problems, [&](const Problem& problem) { return problem.where.field == field; });
        return found == problems.end() ? Problem{} : *found;
    };
    EXPECT_NE(of("soil_in_hand").fix.find("hard, crumbly, plastic, sticky"), std::string::npos);
    EXPECT_NE(of("crown_height").fix.find("cm"), std::string::npos);
    EXPECT_NE(of("root_mass").fix.find("from 0.02 to 10 kg"), std::string::npos);
    EXPECT_FALSE(of("leaf_sick").what.empty());
    EXPECT_NE(of("evenness").fix.find("even"), std::string::npos);
}

}  // namespace
}  // namespace beetwright::io
