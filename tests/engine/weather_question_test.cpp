#include "engine/weather_question.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

namespace beetwright::engine {
namespace {

using weather::Element;
using weather::Held;
using weather::Series;
using weather::SoilClass;

enum class Rain { none, weekly };

/// Eight weeks of a mild autumn from a Monday on, 12 mm in the first six hours of each if it rains.
Series autumn(Rain rain) {
    Series series;
    series.place = weather::Place::degrees(53.0, 8.0, 10.0);
    series.begin = *parse_instant("2031-09-29T00:00Z");
    for (std::size_t k = 0; k < std::size_t{8} * 168; ++k) {
        auto& hour = series.hours.emplace_back(weather::unknown_hour());
        hour[static_cast<std::size_t>(Element::air)] =
            281.15 + 3.0 * std::sin(2.0 * 3.14159265 * (static_cast<double>(k % 24) - 9.0) / 24.0);
        if (rain == Rain::weekly) {
            hour[static_cast<std::size_t>(Element::rain)] = k % 168 < 6 ? 2.0 : 0.0;
        }
    }
    return series;
}

WeatherAnswer ask(Rain rain, std::optional<SoilClass> soil) {
    return ask_weather(autumn(rain), Catalogue{}, {.soil = soil, .draws = 50});
}

std::size_t wet_hours(const WeatherAnswer& answer) {
    std::size_t sum = 0;
    for (const auto& week : answer.weeks) {
        sum += week.held[static_cast<std::size_t>(Held::wet)];
    }
    return sum;
}

TEST(WeatherQuestion, TheGroundIsToldWhereSoilAndRainAreKnown) {
    for (const auto& week : ask(Rain::weekly, std::nullopt).weeks) {
        EXPECT_FALSE(week.ground);
    }
    const auto dry = ask(Rain::none, SoilClass::loam);
    for (const auto& week : dry.weeks) {
        EXPECT_FALSE(week.ground);
    }
    EXPECT_EQ(dry.assumptions.front(), "without rain nothing can be said about the ground");
    const auto answer = ask(Rain::weekly, SoilClass::loam);
    ASSERT_EQ(answer.weeks.size(), 8U);
    for (const auto& week : answer.weeks) {
        ASSERT_TRUE(week.ground);
        EXPECT_EQ(
            std::accumulate(week.ground->days.begin(), week.ground->days.end(), std::size_t{0}),
            7U);
        EXPECT_GT(week.ground->moisture, 0.12);
        EXPECT_LT(week.ground->moisture, 0.451);
    }
    // 12 mm a week are more than an October takes: the ground grows wetter.
    EXPECT_GT(answer.weeks.back().ground->moisture, answer.weeks.front().ground->moisture);
}

TEST(WeatherQuestion, ALoamsRulesAreTheUsualAndClayHoldsLongerThanSand) {
    const auto usual = ask(Rain::weekly, std::nullopt);
    const auto loam = ask(Rain::weekly, SoilClass::loam);
    for (std::size_t w = 0; w < usual.weeks.size(); ++w) {
        EXPECT_EQ(usual.weeks[w].open.value, loam.weeks[w].open.value);
        EXPECT_EQ(usual.weeks[w].open.low, loam.weeks[w].open.low);
        EXPECT_EQ(usual.weeks[w].held, loam.weeks[w].held);
    }
    EXPECT_GT(wet_hours(ask(Rain::weekly, SoilClass::clay)),
              wet_hours(ask(Rain::weekly, SoilClass::sand)));
}

}  // namespace
}  // namespace beetwright::engine
