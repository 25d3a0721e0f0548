// The weather of a season as files of its folder, and forecasts in runs.
#include "io/weather_season.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "demo_season/invent.hpp"
#include "io/weather_json.hpp"
#include "season_equal.hpp"

namespace beetwright::io {
namespace {

const weather::KnownWeather& demo() {
    static const auto weather =
        demo::invent(5, UnitSystem::metric, demo::loss_physics(Catalogue{})).season.weather;
    return *weather;
}

TEST(WeatherOfASeason, GoesThroughItsFilesInEitherSystemOfUnits) {
    auto known = demo();
    known.observed->filled = {3, 700};
    for (const auto units : {UnitSystem::metric, UnitSystem::us}) {
        const auto again = read_known_weather(write_known_weather(known, units));
        ASSERT_TRUE(again.ok()) << again.problems()[0].text();
        expect_equal_weather(known, *again);
    }
}

TEST(WeatherOfASeason, LeavesOutWhatIsNotKnown) {
    weather::KnownWeather one;
    one.climate = demo().climate;
    const auto files = write_known_weather(one, UnitSystem::metric);
    ASSERT_EQ(files.size(), 1U);
    EXPECT_TRUE(files.contains("weather_usual.csv"));
    EXPECT_TRUE(write_known_weather({}, UnitSystem::metric).empty());
}

// Weather in a folder is read with the rest, and told with the rest.
TEST(WeatherOfASeason, IsPartOfItsFolder) {
    auto season = demo::invent(5, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
    auto files = write_season(season, UnitSystem::metric);
    files.merge(write_known_weather(*season.weather, UnitSystem::metric));
    const auto read = read_season(files);
    ASSERT_TRUE(read.ok());
    expect_equal_weather(*season.weather, *read->weather);

    auto& measured = files["weather_observed.csv"];
    const auto at = measured.find(",96,");
    measured.replace(at, 4, ",196,");
    files["fields.csv"].replace(files["fields.csv"].find("Upper Sallow"), 12, "");
    const auto bad = read_season(files);
    ASSERT_FALSE(bad.ok());
    bool told_weather = false;
    bool told_field = false;
    for (const auto& problem : bad.problems()) {
        told_weather =
            told_weather || (problem.where.file == "weather_observed.csv" &&
                             problem.where.line > 0 && problem.where.field == "humidity");
        told_field = told_field || problem.where.file == "fields.csv";
    }
    EXPECT_TRUE(told_weather);
    EXPECT_TRUE(told_field);
}

TEST(WeatherOfASeason, HasAWordForEachPart) {
    for (const auto part : kWeatherParts) {
        EXPECT_EQ(weather_part_named(word_of(part)), part);
    }
    EXPECT_FALSE(weather_part_named("climate").has_value());
}

constexpr const char* kHead = "# latitude: 54\n# longitude: 7\n# clock: +01:00\n";

/// Two runs of as many hours each.
std::string runs(int first_hours, int second_hours, const char* second_rain = "0") {
    std::string text = std::string(kHead) + "hour_beginning,run,temperature [°C],rain [mm]\n";
    for (int run = 1; run <= 2; ++run) {
        for (int k = 0; k < (run == 1 ? first_hours : second_hours); ++k) {
            text += fmt::format("2031-10-0{}T{:02}:00:00+01:00,{},{}.5,{}\n", 1 + k / 24, k % 24,
                                run, run, run == 1 ? "0" : second_rain);
        }
    }
    return text;
}

std::string told(const Problems& problems) {
    std::string text;
    for (const auto& problem : problems) {
        text += problem.text() + "\n";
    }
    return text;
}

TEST(Forecasts, AreReadRunByRun) {
    const auto read = read_forecast(runs(30, 30), "f.csv");
    ASSERT_TRUE(read.ok()) << told(read.problems());
    ASSERT_EQ(read->runs.size(), 2U);
    EXPECT_EQ(read->runs[0].clock, std::chrono::minutes(60));
    for (std::size_t run = 0; run < 2; ++run) {
        ASSERT_EQ(read->runs[run].hours.size(), 30U);
        EXPECT_NEAR(read->runs[run].at(29, weather::Element::air),
                    274.65 + static_cast<double>(run), 1e-9);
    }
}

TEST(Forecasts, OfOneRunNeedNotSayWhich) {
    const auto read = read_forecast(std::string(kHead) +
                                        "hour_beginning,temperature [°C]\n2031-10-01T00:00:00Z,5\n"
                                        "2031-10-01T01:00:00Z,6\n",
                                    "f.csv");
    ASSERT_TRUE(read.ok()) << told(read.problems());
    EXPECT_EQ(read->runs.size(), 1U);
}

TEST(Forecasts, WhoseRunsDoNotMatchAreRefused) {
    const auto shorter = read_forecast(runs(30, 29), "f.csv");
    ASSERT_FALSE(shorter.ok());
    EXPECT_NE(told(shorter.problems()).find("run 2 has 29 hours"), std::string::npos);
    const auto dry = read_forecast(runs(30, 30, ""), "f.csv");
    ASSERT_FALSE(dry.ok());
    EXPECT_NE(told(dry.problems()).find("the rain stands in some runs"), std::string::npos);
    auto some = runs(30, 30);
    some.replace(some.find(",2,2.5"), 6, ",,2.5");
    const auto unsaid = read_forecast(some, "f.csv");
    ASSERT_FALSE(unsaid.ok());
    EXPECT_NE(told(unsaid.problems()).find("some rows say which run"), std::string::npos);
}

TEST(Forecasts, AreNotWeatherThatWas) {
    const auto read = read_weather(runs(30, 30), "f.csv");
    ASSERT_FALSE(read.ok());
    EXPECT_NE(told(read.problems()).find("2 runs of a forecast"), std::string::npos);
}

TEST(Forecasts, OfWhichARunHasAGapTellWhich) {
    auto text = runs(30, 30);
    const auto from = text.rfind("2031-10-01T05");
    text.erase(from, text.rfind("2031-10-01T12") - from);
    const auto read = read_forecast(text, "f.csv");
    ASSERT_FALSE(read.ok());
    EXPECT_NE(told(read.problems()).find("run 2: there are no rows from 2031-10-01 05:00"),
              std::string::npos)
        << told(read.problems());
}

TEST(WeatherFacts, AreReadOrEachIsTold) {
    const auto facts = weather_facts(
        {{"latitude", "54.5"}, {"longitude", "-7"}, {"elevation", "12"}, {"clock", "-03:30"}});
    ASSERT_TRUE(facts.ok());
    EXPECT_EQ(facts->latitude_deg, 54.5);
    EXPECT_EQ(facts->longitude_deg, -7.0);
    EXPECT_EQ(facts->elevation_m, 12.0);
    EXPECT_EQ(facts->clock, std::chrono::minutes(-210));
    const auto wrong = weather_facts(
        {{"latitude", "95"}, {"longitude", "7 E"}, {"clock", "one"}, {"elevatoin", "2"}});
    ASSERT_FALSE(wrong.ok());
    EXPECT_EQ(wrong.problems().size(), 4U);
    EXPECT_NE(told(wrong.problems()).find("did you mean \"elevation\"?"), std::string::npos)
        << told(wrong.problems());
}

TEST(WeatherFiles, KeepTheMarkOfHoursThatWereFilled) {
    const auto read = read_weather(std::string(kHead) +
                                       "hour_ending,temperature [°C],filled\n"
                                       "2031-10-01T01:00:00Z,5,\n2031-10-01T02:00:00Z,6,yes\n"
                                       "2031-10-01T03:00:00Z,7,no\n",
                                   "w.csv");
    ASSERT_TRUE(read.ok()) << told(read.problems());
    EXPECT_EQ(read->series.filled, std::vector<std::uint32_t>{1});
}

}  // namespace
}  // namespace beetwright::io
