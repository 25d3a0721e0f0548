#include "weather/air.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "oracle.hpp"

namespace beetwright::weather {
namespace {

double pws(double celsius) {
    return saturation_pressure_Pa(Temperature::celsius(celsius));
}

// ASHRAE Handbook of Fundamentals 2017, chapter 1, table 3; the formula is within 300 ppm of it.
TEST(Air, SaturationPressuresOfTheHandbook) {
    const struct {
        double celsius, Pa;
    } rows[] = {{-60, 1.08},  {-20, 103.24},  {-5, 401.74},    {5, 872.6},
                {25, 3169.7}, {50, 12'351.3}, {100, 101'418.0}};
    for (const auto& row : rows) {
        const double digits = row.Pa < 10 ? 0.005 : 0.0;  // two decimals are printed
        EXPECT_NEAR(pws(row.celsius), row.Pa, 3e-4 * row.Pa + digits) << row.celsius;
    }
    // The formula itself, worked out apart.
    EXPECT_NEAR(pws(-30), 38.016, 5e-4);
    EXPECT_NEAR(pws(-10), 259.903, 5e-4);
    EXPECT_NEAR(pws(0), 611.154, 5e-4);
    EXPECT_NEAR(pws(10), 1227.995, 5e-4);
    EXPECT_NEAR(pws(30), 4246.030, 5e-4);
}

TEST(Air, IceAndWaterMeetAtTheTriplePoint) {
    constexpr double kStep = 1e-6;
    EXPECT_NEAR(pws(0.01 - kStep), pws(0.01 + kStep), 0.002);
    EXPECT_NEAR(pws(0.01), 611.657, 5e-4);
    double before = pws(-1.0);
    for (double t = -1.0 + 1e-3; t < 1.0; t += 1e-3) {
        const double now = pws(t);
        EXPECT_GT(now, before) << t;
        EXPECT_LT(now - before, 0.06) << "no jump at " << t;
        before = now;
    }
}

TEST(Air, HumidityRatiosAndEnthalpiesOfTheHandbook) {
    const struct {
        double celsius, ratio, J_per_kg;
    } rows[] = {{-20, 0.0006373, -18'542},
                {-5, 0.0024863, 1164},
                {5, 0.005425, 18'639},
                {25, 0.020173, 76'504}};
    for (const auto& row : rows) {
        const double ratio = humidity_ratio(pws(row.celsius), kSeaLevel_Pa);
        // The table holds what real air adds: an enhancement of up to half a per cent.
        EXPECT_NEAR(ratio, row.ratio, 0.006 * row.ratio) << row.celsius;
        EXPECT_NEAR(enthalpy_J_per_kg(Temperature::celsius(row.celsius), row.ratio), row.J_per_kg,
                    60.0)
            << row.celsius;
    }
    EXPECT_NEAR(pressure_at(500.0), 95'461.0, 0.5);
    EXPECT_NEAR(pressure_at(1000.0), 89'875.0, 0.5);
}

// The handbook's example 1: 40 °C, 20 °C wet, at sea level. Half of the last figure printed.
TEST(Air, TheHandbooksExample) {
    const auto air = Temperature::celsius(40.0);
    const double ratio =
        humidity_ratio_from_wet_bulb(air, Temperature::celsius(20.0), kSeaLevel_Pa);
    EXPECT_NEAR(ratio, 0.0065, 1e-4);  // read from its chart
    const double vapour = vapour_pressure_Pa(ratio, kSeaLevel_Pa);
    EXPECT_NEAR(dew_point(vapour).in_celsius(), 7.0, 0.5);
    EXPECT_NEAR(vapour / pws(40.0), 0.14, 0.005);
    EXPECT_NEAR(enthalpy_J_per_kg(air, ratio), 56'700.0, 50.0);
    EXPECT_NEAR(specific_volume(air, ratio, kSeaLevel_Pa), 0.896, 5e-4);
    // As an open library's tests have them, at 95461 Pa and within 300 ppm.
    EXPECT_NEAR(humidity_ratio_from_wet_bulb(Temperature::celsius(30.0), Temperature::celsius(25.0),
                                             95'461.0),
                0.01922813, 3e-4 * 0.01922813);
    EXPECT_NEAR(humidity_ratio_from_wet_bulb(Temperature::celsius(-1.0), Temperature::celsius(-5.0),
                                             95'461.0),
                0.00120399819933844, 3e-4 * 0.00120399819933844);
    const auto cool = Temperature::celsius(5.0);
    const double cool_ratio = humidity_ratio(0.85 * pws(5.0), kSeaLevel_Pa);
    EXPECT_NEAR(cool_ratio, 0.00458568, 5e-9);
    // psychrolib, which stops within 0.001 K, says 3.94635.
    EXPECT_NEAR(wet_bulb(cool, cool_ratio, kSeaLevel_Pa).in_celsius(), 3.94635, 0.001);
    EXPECT_NEAR(dew_point(0.85 * pws(5.0)).in_celsius(), 2.69149, 5e-6);
}

// psychrolib 1.1.1 from npm over 200 random airs (tools/oracles/weather.mjs). Its dew point stops
// within 0.001 K.
TEST(Air, AsASecondLibraryHasIt) {
    const Oracle oracle("weather");
    for (int i = 0; i < 200; ++i) {
        const auto get = [&](const char* name) {
            return oracle.at("air " + std::to_string(i) + " " + name);
        };
        const auto air = Temperature::celsius(get("air"));
        const double vapour = get("humidity") * saturation_pressure_Pa(air);
        EXPECT_NEAR(vapour, get("vapour"), 1e-9 * vapour) << i;
        const double ratio = humidity_ratio(vapour, get("pressure"));
        EXPECT_NEAR(ratio, get("ratio"), 1e-9 * ratio) << i;
        EXPECT_NEAR(vapour_pressure_Pa(ratio, get("pressure")), vapour, 1e-9 * vapour) << i;
        EXPECT_NEAR(dew_point(vapour).in_celsius(), get("dew"), 0.0011) << i;
        EXPECT_NEAR(enthalpy_J_per_kg(air, ratio), get("enthalpy"),
                    1e-9 * std::abs(get("enthalpy")) + 1e-6)
            << i;
        EXPECT_NEAR(specific_volume(air, ratio, get("pressure")), get("volume"), 1e-9) << i;
        const double wet_ratio =
            humidity_ratio_from_wet_bulb(air, Temperature::celsius(get("wet")), get("pressure"));
        // That library gives no less than 1e-7.
        if (wet_ratio > 1e-7) {
            EXPECT_NEAR(wet_ratio, get("ratio_of_wet"), 1e-9) << i;
        }
    }
}

TEST(Air, AWetBulbReadsBackAsItsHumidity) {
    for (double t = -30.0; t <= 45.0; t += 7.3) {
        for (double humidity = 0.05; humidity <= 1.0; humidity += 0.19) {
            const auto air = Temperature::celsius(t);
            const double ratio = humidity_ratio(humidity * pws(t), 90'000.0);
            const auto wet = wet_bulb(air, ratio, 90'000.0);
            EXPECT_LE((wet - air).si(), 1e-9);
            EXPECT_NEAR(humidity_ratio_from_wet_bulb(air, wet, 90'000.0), ratio, 1e-10) << t;
        }
    }
}

}  // namespace
}  // namespace beetwright::weather
