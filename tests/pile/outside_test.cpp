// What the sides of a pile feel.
#include "pile/outside.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "pile/beds.hpp"
#include "pile/plans.hpp"

namespace beetwright::pile {
namespace {

std::vector<ShapeSide> sides() {
    return (*make_grid(heap().shape, {})).sides;
}

WeatherHour calm() {
    WeatherHour hour;
    hour.air_C = 4.0;
    hour.sky_W_m2 = 5.670374419e-8 * std::pow(277.15, 4.0);
    return hour;
}

Outside outside_of(const WeatherHour& hour, std::span<const Cover> covers = {}) {
    Outside outside;
    set_outside(outside, hour, sides(), covers, central_pile());
    return outside;
}

std::vector<Cover> all(const Cover& cover) {
    return std::vector<Cover>(sides().size(), cover);
}

// Under a sky as warm as the air, without sun, every side feels the air.
TEST(Outside, FeelsTheAirUnderAnEvenSky) {
    for (const auto& side : outside_of(calm()).sides) {
        EXPECT_NEAR(side.felt_C, 4.0, 1e-9);
        EXPECT_EQ(side.resistance, 0.0);
    }
}

// A clear sky 60 W/m2 colder: the top, which sees all of it, feels it the most, at most by
// 0.94 x 60 W/m2 over its heat transfer.
TEST(Outside, ClearSkyCoolsTheTopMost) {
    auto hour = calm();
    hour.sky_W_m2 -= 60.0;
    const auto outside = outside_of(hour);
    EXPECT_NEAR(4.0 - outside.sides[2].felt_C, 0.94 * 60.0 / outside.sides[2].heat_transfer, 1e-9);
    EXPECT_GT(outside.sides[0].felt_C, outside.sides[2].felt_C);
    EXPECT_LT(outside.sides[0].felt_C, 4.0);
}

TEST(Outside, SunWarmsAndWindCoolsTheFace) {
    auto hour = calm();
    hour.sun_W_m2.assign(sides().size(), 300.0);
    const double still = outside_of(hour).sides[0].felt_C;
    hour.wind = 6.0;
    const double windy = outside_of(hour).sides[0].felt_C;
    EXPECT_GT(still, windy);
    EXPECT_GT(windy, 4.0);
}

// Dynamic pressure of 0.6 x 5 m/s in air of 1.27 kg/m3 is 5.7 Pa; 0.45 of it on the flank it meets.
TEST(Outside, WindPressesOnTheFlankItMeets) {
    auto hour = calm();
    hour.wind = 5.0;
    const auto at = sides();
    hour.wind_from = at[0].azimuth;
    const auto outside = outside_of(hour);
    EXPECT_NEAR(outside.wind_Pa[0], 0.45 * 5.7, 0.05);
    EXPECT_NEAR(outside.wind_Pa[1], -0.30 * 5.7, 0.05);
    EXPECT_NEAR(outside.wind_Pa[2], -0.45 * 5.7, 0.05);
}

TEST(Outside, CoversResistHeatAirVapourAndRain) {
    const auto c = central_pile();
    auto hour = calm();
    hour.rain_mm = 3.6;  // 1 g/s on a square metre
    const auto bare = outside_of(hour);
    const auto under_fleece = outside_of(hour, all(fleece(c)));
    const auto under_straw = outside_of(hour, all(straw(c, Length(0.1))));
    const auto under_plastic = outside_of(hour, all(plastic(c)));
    EXPECT_NEAR(bare.sides[2].rain, 1e-3, 1e-12);
    EXPECT_NEAR(under_fleece.sides[2].rain, 1e-4, 1e-12);
    EXPECT_EQ(under_plastic.sides[2].rain, 0.0);
    EXPECT_NEAR(under_straw.sides[2].resistance, 0.1 / 0.065, 1e-9);
    EXPECT_NEAR(under_fleece.sides[2].resistance, 0.045, 1e-9);
    EXPECT_GT(bare.sides[2].spread, under_fleece.sides[2].spread);
    EXPECT_GT(under_fleece.sides[2].spread, under_straw.sides[2].spread);
    EXPECT_EQ(under_plastic.sides[2].spread, 0.0);
    EXPECT_EQ(bare.cover_air[2], 0.0);
    EXPECT_GT(under_plastic.cover_air[2], 100.0 * under_straw.cover_air[2]);
}

// Strips left open: between bare and covered, and nearly all of the air goes through them.
TEST(Outside, StripsLieBetweenBareAndCovered) {
    const auto c = central_pile();
    auto hour = calm();
    hour.rain_mm = 3.6;
    const auto covered = outside_of(hour, all(straw_under_plastic(c, Length(0.1))));
    const auto strips = outside_of(hour, all(split(straw_under_plastic(c, Length(0.1)), 0.2)));
    EXPECT_LT(strips.sides[2].resistance, covered.sides[2].resistance);
    EXPECT_GT(strips.sides[2].resistance, 0.0);
    EXPECT_NEAR(strips.sides[2].rain, 0.2e-3, 1e-12);
    EXPECT_LT(strips.cover_air[2], 20.0);
    // Side by side: 0.8 of the covered way and 0.2 of the bare one.
    const double h = strips.sides[2].heat_transfer;
    const double both = 1.0 / (strips.sides[2].resistance + 1.0 / h);
    EXPECT_NEAR(both, 0.8 / (covered.sides[2].resistance + 1.0 / h) + 0.2 * h, 1e-9);
}

// Ten centimetres of snow on the top: 0.1 / 0.18 m2 K/W, less on a flank, which stands steep; sun
// is thrown back, and air held up; a dusting hides half of what is below it.
TEST(Outside, SnowKeepsWarmAndThrowsTheSunBack) {
    auto hour = calm();
    hour.sun_W_m2.assign(sides().size(), 300.0);
    const auto bare = outside_of(hour);
    hour.snow_m = 0.1;
    const auto snowed = outside_of(hour);
    const auto c = central_pile();
    EXPECT_NEAR(snowed.sides[2].resistance, 0.1 / c.snow_conductivity, 1e-12);
    EXPECT_NEAR(snowed.sides[0].resistance, 0.1 * std::cos(sides()[0].tilt) / c.snow_conductivity,
                1e-12);
    EXPECT_NEAR((snowed.sides[2].felt_C - 4.0) / (bare.sides[2].felt_C - 4.0),
                c.snow_absorptance / c.absorptance, 1e-9);
    EXPECT_NEAR(snowed.cover_air[2], 0.1 * c.snow_air, 1e-9);
    EXPECT_LT(snowed.sides[2].spread, bare.sides[2].spread);
    hour.snow_m = 0.01;
    const double half = 0.5 * (c.absorptance + c.snow_absorptance);
    EXPECT_NEAR((outside_of(hour).sides[2].felt_C - 4.0) / (bare.sides[2].felt_C - 4.0),
                half / c.absorptance, 1e-9);
}

// The ground beside a pile is never covered.
TEST(Outside, GroundStaysBare) {
    const auto outside = outside_of(calm(), all(straw(central_pile(), Length(0.3))));
    EXPECT_EQ(outside.sides.back().resistance, 0.0);
}

}  // namespace
}  // namespace beetwright::pile
