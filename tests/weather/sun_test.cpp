#include "weather/sun.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "oracle.hpp"

namespace beetwright::weather {
namespace {

Instant instant(const char* text) {
    return *parse_instant(text);
}

// The worked case of the algorithm's report: Reda and Andreas, NREL/TP-560-34302, tables A5.1 and
// A5.2. Each tolerance is half of the last figure printed there.
TEST(Sun, TheReportsCaseInFull) {
    const auto at = instant("2003-10-17T12:30:30-07:00");
    const auto sun = sun_ephemeris(at, 67.0);
    EXPECT_NEAR(sun.julian_day, 2452930.312847, 5e-7);
    EXPECT_NEAR(sun.longitude / kDegree, 24.0182616917, 5e-11);
    EXPECT_NEAR(sun.latitude / kDegree, -0.0001011219, 5e-11);
    EXPECT_NEAR(sun.distance, 0.9965422974, 5e-11);
    EXPECT_NEAR(sun.nutation_longitude / kDegree, -0.00399840, 5e-9);
    EXPECT_NEAR(sun.nutation_obliquity / kDegree, 0.00166657, 5e-9);
    EXPECT_NEAR(sun.obliquity / kDegree, 23.440465, 5e-7);
    EXPECT_NEAR(sun.apparent_longitude / kDegree, 204.0085519281, 5e-11);
    EXPECT_NEAR(sun.sidereal_time / kDegree, 318.511910, 5e-7);
    EXPECT_NEAR(sun.right_ascension / kDegree, 202.227408, 5e-7);
    EXPECT_NEAR(sun.declination / kDegree, -9.31434, 5e-6);

    const auto seen = sun_position(at, Place::degrees(39.742476, -105.1786, 1830.14),
                                   {82'000.0, Temperature::celsius(11.0)}, 67.0);
    EXPECT_NEAR(seen.right_ascension / kDegree, 202.22704, 5e-6);
    EXPECT_NEAR(seen.declination / kDegree, -9.316179, 5e-7);
    EXPECT_NEAR(seen.hour_angle / kDegree, 11.10627, 5e-6);
    EXPECT_NEAR(seen.true_elevation / kDegree, 39.872046, 5e-7);
    EXPECT_NEAR(seen.refraction / kDegree, 0.016332, 5e-7);
    EXPECT_NEAR(seen.zenith / kDegree, 50.11162, 5e-6);
    EXPECT_NEAR(seen.azimuth / kDegree, 194.340241, 5e-7);
}

// Golden, Colorado, as the tests of an open library have them for the same algorithm. Its days are
// those of UTC: a sunset after midnight there, as in summer, is the evening's before.
TEST(Sun, RiseNoonAndSet) {
    const auto golden = Place::degrees(39.742476, -105.1786, 1830.14);
    const auto on = [&](const char* midnight) {
        return sun_times(instant(midnight), golden, 67.0);
    };
    const auto expect = [](const std::optional<Instant>& at, const char* text) {
        ASSERT_TRUE(at) << text;
        EXPECT_LE(abs(*at - instant(text)), std::chrono::seconds(1)) << to_text(*at);
    };
    expect(on("2015-01-02T00:00-07:00").rise, "2015-01-02T07:21:55-07:00");
    expect(on("2015-01-02T00:00-07:00").noon, "2015-01-02T12:04:45-07:00");
    expect(on("2015-01-02T00:00-07:00").set, "2015-01-02T16:47:43-07:00");
    expect(on("2015-08-02T00:00-07:00").rise, "2015-08-02T05:00:27-07:00");
    expect(on("2015-08-02T00:00-07:00").noon, "2015-08-02T12:06:58-07:00");
    expect(on("2015-08-01T00:00-07:00").set, "2015-08-01T19:13:58-07:00");
}

TEST(Sun, FarNorthItDoesNotRiseInWinterNorSetInSummer) {
    const auto tromsoe_latitude = Place::degrees(69.65, 18.96, 0.0);
    const auto winter = sun_times(instant("2031-12-21T00:00Z"), tromsoe_latitude);
    EXPECT_FALSE(winter.rise || winter.set);
    EXPECT_TRUE(winter.noon);
    const auto summer = sun_times(instant("2031-06-21T00:00Z"), tromsoe_latitude);
    EXPECT_FALSE(summer.rise || summer.set);
}

// Other formulas: NOAA's, as R's package maptools has them, over 150 random places and instants and
// 60 risings and settings (tools/oracles/sun.R). They are simpler than ours and are held to 0.02
// degrees and a minute; their refraction below the horizon is another, so it is left out there.
TEST(Sun, AsOtherFormulasInRHaveIt) {
    const Oracle oracle("sun");
    const auto get = [&](int i, const char* name) {
        return oracle.at(std::to_string(i) + " " + name);
    };
    const auto seconds = [](double s) {
        return Instant(std::chrono::milliseconds(std::llround(1000.0 * s)));
    };
    int high = 0;
    for (int i = 0; i < 150; ++i) {
        const double elevation = get(i, "elevation");
        const auto seen = sun_position(
            seconds(get(i, "at")), Place::degrees(get(i, "latitude"), get(i, "longitude"), 0.0));
        const double azimuth = seen.azimuth / kDegree;
        // Near the zenith a little of the sky is much of azimuth.
        const double circle = std::cos(elevation * kDegree);
        EXPECT_NEAR(circle * std::remainder(azimuth - get(i, "azimuth"), 360.0), 0.0, 0.02) << i;
        if (elevation > 5.0) {
            EXPECT_NEAR(90.0 - seen.zenith / kDegree, elevation, 0.02) << i;
            ++high;
        }
    }
    EXPECT_GT(high, 50);
    for (int i = 0; i < 60; ++i) {
        const auto times =
            sun_times(seconds(get(i, "day")), Place::degrees(get(i, "day latitude"), 0.0, 0.0));
        ASSERT_TRUE(times.rise && times.set) << i;
        EXPECT_LE(abs(*times.rise - seconds(get(i, "rise"))), std::chrono::minutes(1)) << i;
        EXPECT_LE(abs(*times.set - seconds(get(i, "set"))), std::chrono::minutes(1)) << i;
    }
}

// nrel-spa 2.0.2 from npm over 200 random places and instants (tools/oracles/weather.mjs).
TEST(Sun, AsASecondLibraryHasIt) {
    const Oracle oracle("weather");
    for (int i = 0; i < 200; ++i) {
        const auto get = [&](const char* name) {
            return oracle.at("sun " + std::to_string(i) + " " + name);
        };
        const Instant at{std::chrono::milliseconds(static_cast<long long>(get("at")))};
        const auto seen =
            sun_position(at, Place::degrees(get("latitude"), get("longitude"), get("elevation")),
                         {100.0 * get("pressure"), Temperature::celsius(get("temperature"))}, 67.0);
        EXPECT_NEAR(seen.zenith / kDegree, get("zenith"), 1e-6) << i;
        EXPECT_NEAR(std::remainder(seen.azimuth / kDegree - get("azimuth"), 360.0), 0.0, 1e-5) << i;
    }
}

TEST(Sun, IrradianceOutsideTheAirIsMostAtTheEndOfTheYear) {
    EXPECT_DOUBLE_EQ(irradiance_outside_air(1.0), 1361.0);
    const auto near = sun_ephemeris(instant("2031-01-04T00:00Z")).distance;
    const auto far = sun_ephemeris(instant("2031-07-05T00:00Z")).distance;
    // Perihelion and aphelion [M]: 0.983 and 1.017 astronomical units.
    EXPECT_NEAR(near, 0.983, 0.001);
    EXPECT_NEAR(far, 1.017, 0.001);
}

}  // namespace
}  // namespace beetwright::weather
