// Weather as a pile's sides meet it.
#include "engine/pile_weather.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "weather/air.hpp"
#include "weather/irradiance.hpp"

namespace beetwright::engine {
namespace {

using weather::Element;

constexpr double kRight = std::numbers::pi / 2.0;

/// A clear day at 52 degrees north.
weather::Series day(Day date = std::chrono::sys_days(std::chrono::year(2031) / 10 / 20)) {
    weather::Series series;
    series.place = weather::Place::degrees(52.0, 6.0, 20.0);
    series.begin = date;
    for (int hour = 0; hour < 24; ++hour) {
        auto values = weather::unknown_hour();
        values[static_cast<std::size_t>(Element::air)] = 281.15;
        values[static_cast<std::size_t>(Element::dew_point)] = 278.15;
        values[static_cast<std::size_t>(Element::cloud)] = 0.0;
        values[static_cast<std::size_t>(Element::rain)] = 0.4;
        series.hours.push_back(values);
    }
    return series;
}
/// Level, then flanks of 45 degrees to the south and to the north.
const std::vector<pile::ShapeSide> kSides{
    {.side = pile::Side::top, .plane = {}, .tilt = 0.0, .azimuth = 0.0},
    {.side = pile::Side::low_flank, .plane = {}, .tilt = 0.5 * kRight, .azimuth = 2.0 * kRight},
    {.side = pile::Side::high_flank, .plane = {}, .tilt = 0.5 * kRight, .azimuth = 0.0}};
constexpr double kAlbedo = 0.2;

TEST(PileWeather, TheSouthFlankHasTheSunAndTheNorthFlankTheSky) {
    const auto series = day();
    const auto suns = suns_of(series);
    const auto noon = pile_hour(series, 12, suns[12], kSides, kAlbedo);
    ASSERT_EQ(noon.sun_W_m2.size(), kSides.size());
    EXPECT_GT(noon.sun_W_m2[1], 1.3 * noon.sun_W_m2[0]);
    EXPECT_LT(noon.sun_W_m2[2], 0.4 * noon.sun_W_m2[0]);
    EXPECT_GT(noon.sun_W_m2[2], 0.0);
    EXPECT_TRUE(pile_hour(series, 0, suns[0], kSides, kAlbedo).sun_W_m2.empty()) << "at night";
}

TEST(PileWeather, OnTheLevelFallsWhatWasMeasuredThere) {
    auto series = day();
    for (auto& hour : series.hours) {
        hour[static_cast<std::size_t>(Element::global)] = 260.0;
    }
    const auto suns = suns_of(series);
    const auto noon = pile_hour(series, 12, suns[12], kSides, kAlbedo);
    EXPECT_NEAR(noon.sun_W_m2[0], 260.0, 1e-9);
}

TEST(PileWeather, AirHoldsWhatTheDewPointSays) {
    const auto series = day();
    const auto suns = suns_of(series);
    const auto hour = pile_hour(series, 3, suns[3], kSides, kAlbedo);
    EXPECT_NEAR(hour.air_C, 8.0, 1e-9);
    EXPECT_NEAR(hour.rain_mm, 0.4, 1e-12);
    const double pressure = weather::pressure_at(20.0);
    const double vapour = weather::vapour_pressure_Pa(hour.humidity, pressure);
    EXPECT_NEAR(weather::dew_point(vapour).in_celsius(), 5.0, 1e-3);
}

TEST(PileWeather, ACoveredSkyRadiatesMore) {
    auto clear = day();
    auto covered = day();
    for (auto& hour : covered.hours) {
        hour[static_cast<std::size_t>(Element::cloud)] = 1.0;
    }
    const auto suns = suns_of(clear);
    EXPECT_GT(pile_hour(covered, 3, suns[3], kSides, kAlbedo).sky_W_m2,
              20.0 + pile_hour(clear, 3, suns[3], kSides, kAlbedo).sky_W_m2);
}

TEST(PileWeather, TheGroundLagsBehindTheYear) {
    // A year of one wave, coldest in the middle of January.
    weather::Series year = day(std::chrono::sys_days(std::chrono::year(2030) / 1 / 1));
    year.hours.clear();
    for (int hour = 0; hour < 365 * 24; ++hour) {
        auto values = weather::unknown_hour();
        const double day_of_year = hour / 24.0;
        values[static_cast<std::size_t>(Element::air)] =
            283.15 - 9.0 * std::cos(2.0 * std::numbers::pi * (day_of_year - 15.0) / 365.0);
        year.hours.push_back(values);
    }
    const Day november = std::chrono::sys_days(std::chrono::year(2031) / 11 / 15);
    const double shallow = ground_celsius(&year, november, Length(0.1));
    const double deep = ground_celsius(&year, november, Length(3.0));
    EXPECT_GT(deep, shallow + 2.0) << "in November what is deep is still warm";
    const Day april = std::chrono::sys_days(std::chrono::year(2031) / 4 / 15);
    EXPECT_LT(ground_celsius(&year, april, Length(3.0)), deep);
    EXPECT_DOUBLE_EQ(ground_celsius(nullptr, november, Length(1.0)), 10.0);
}

}  // namespace
}  // namespace beetwright::engine
