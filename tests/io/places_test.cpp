// places.csv: where in a field something was seen.
#include <gtest/gtest.h>

#include <numbers>
#include <string>

#include "io/small_folder.hpp"
#include "season_equal.hpp"

namespace beetwright::io {
namespace {

constexpr double kDegree = std::numbers::pi / 180.0;
const std::string kHead = "field,at,of,spot,latitude [°],longitude [°],accuracy [m]\n";
const std::string kOf = "01890000-0000-7000-8000-000000000001";

FileTexts with_place(const std::string& cells) {
    auto files = small_folder();
    files["places.csv"] = kHead + cells + "\n";
    return files;
}

TEST(Places, SayWhereSomethingWasSeen) {
    auto files = small_folder();
    files["places.csv"] = kHead + "Long Acre,2031-11-20T08:00Z," + kOf + ",3,54.0012,-7.0034,4\n" +
                          "Long Acre,2031-11-20T08:05Z," + kOf + ",,-33.5,179.99,\n";
    const auto season = must_read(files);
    ASSERT_EQ(season.places.size(), 2U);
    const auto& first = season.places[0];
    EXPECT_EQ(first.field, "Long Acre");
    EXPECT_EQ(first.of.text(), kOf);
    EXPECT_EQ(first.spot, 3);
    EXPECT_DOUBLE_EQ(first.latitude_rad, 54.0012 * kDegree);
    EXPECT_DOUBLE_EQ(first.longitude_rad, -7.0034 * kDegree);
    EXPECT_EQ(first.accuracy, Length(4.0));
    EXPECT_EQ(season.places[1].spot, 0);
    EXPECT_FALSE(season.places[1].accuracy.is_known());
    EXPECT_NE(season.places[0].id, season.places[1].id);
}

TEST(Places, ComeBackAsTheyWereWritten) {
    const auto season =
        must_read(with_place("Long Acre,2031-11-20T08:00Z," + kOf + ",3,54.00123456,7.00345678,4"));
    for (const auto units : {UnitSystem::metric, UnitSystem::us}) {
        expect_equal_seasons(season, must_read(write_season(season, units)));
    }
}

TEST(PlacesRefuse, WhatIsNowhere) {
    const std::string begin = "Long Acre,2031-11-20," + kOf;
    expect_problem(with_place(begin + ",,91,7,4"), "places.csv", 2, "latitude", "90");
    expect_problem(with_place(begin + ",,54,181,4"), "places.csv", 2, "longitude", "180");
    expect_problem(with_place(begin + ",,,7,4"), "places.csv", 2, "latitude", "");
    expect_problem(with_place(begin + ",,54,7,2000"), "places.csv", 2, "accuracy", "1000");
    expect_problem(with_place(begin + ",1.5,54,7,"), "places.csv", 2, "spot", "whole");
    expect_problem(with_place("Long Acre,2031-11-20,,,54,7,"), "places.csv", 2, "of", "");
    expect_problem(with_place("Long Acre,2031-11-20,here,,54,7,"), "places.csv", 2, "of", "");
    expect_problem(with_place("Lang Acre,2031-11-20," + kOf + ",,54,7,"), "places.csv", 2, "field",
                   "did you mean");
}

}  // namespace
}  // namespace beetwright::io
