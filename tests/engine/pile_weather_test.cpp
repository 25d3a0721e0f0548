#include "engine/pile_weather.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "pile/pile.hpp"
#include "weather/air.hpp"

namespace beetwright::engine {
namespace {

using weather::Element;

/// Two days of a clear October at 52 degrees north with a temperature alone.
weather::Series october() {
    weather::Series series;
    series.place = weather::Place::degrees(52.0, 0.0, 20.0);
    series.begin = *parse_instant("2031-10-10T00:00Z");
    for (std::size_t k = 0; k < 48; ++k) {
        auto& hour = series.hours.emplace_back(weather::unknown_hour());
        hour[static_cast<std::size_t>(Element::air)] =
            283.15 + 4.0 * std::sin(0.261799 * (static_cast<double>(k) - 9.0));
        hour[static_cast<std::size_t>(Element::cloud)] = 0.0;
    }
    return series;
}

pile::Grid grid_facing_south() {
    return *pile::make_grid({.width = Length(9.0),
                             .height = Length(2.6),
                             .top_width = Length(2.0),
                             .length = Length(40.0),
                             .facing = 3.14159265},
                            {});
}

// At noon the flank that faces south has more sun than the top, the top more than the north flank;
// at night nothing has any.
TEST(PileWeather, SunFallsOnTheFlankThatFacesIt) {
    const auto grid = grid_facing_south();
    const auto hours = pile_weather(october(), grid.sides, {});
    ASSERT_TRUE(hours.ok());
    ASSERT_EQ(hours->size(), 48U);
    const auto& noon = (*hours)[12].sun_W_m2;
    EXPECT_GT(noon[1], noon[2]);
    EXPECT_GT(noon[2], noon[0]);
    EXPECT_GT(noon[1], 400.0);
    EXPECT_LT(noon[1], 1000.0);
    for (const double sun : (*hours)[0].sun_W_m2) {
        EXPECT_EQ(sun, 0.0);
    }
}

// Without humidity the dew point is the least temperature of the day about: 6 °C here.
TEST(PileWeather, FillsWhatTheSeriesLacks) {
    const auto grid = grid_facing_south();
    const auto hours = pile_weather(october(), grid.sides, {});
    ASSERT_TRUE(hours.ok());
    const double saturated_at_6 = weather::humidity_ratio(
        weather::saturation_pressure_Pa(Temperature::celsius(6.0)), weather::kSeaLevel_Pa);
    EXPECT_NEAR((*hours)[20].humidity, saturated_at_6, 1e-5);
    EXPECT_GT((*hours)[20].sky_W_m2, 220.0);
    EXPECT_LT((*hours)[20].sky_W_m2, 320.0);
    EXPECT_GT((*hours)[20].deep_ground_C, 9.0);
}

TEST(PileWeather, WithoutTemperatureItIsAProblem) {
    auto series = october();
    for (auto& hour : series.hours) {
        hour[static_cast<std::size_t>(Element::air)] = weather::kUnknown;
    }
    EXPECT_FALSE(pile_weather(series, grid_facing_south().sides, {}).ok());
}

}  // namespace
}  // namespace beetwright::engine
