#include "weather/sky.hpp"

#include <gtest/gtest.h>

namespace beetwright::weather {
namespace {

const auto kAir = Temperature::celsius(5.0);
const auto kDew = Temperature::celsius(2.0);

TEST(Sky, SwinbanksClearSky) {
    EXPECT_NEAR(clear_sky_swinbank(Temperature::kelvin(278.15)).in_kelvin(), 256.069, 5e-4);
    EXPECT_NEAR(clear_sky_swinbank(Temperature::kelvin(293.0)).in_kelvin(), 276.847, 5e-4);
}

TEST(Sky, BerdahlAndMartinsClearSkyIsColdestAtNoon) {
    EXPECT_NEAR(clear_sky_berdahl_martin(kAir, kDew, 1.0).in_celsius(), -15.60, 0.005);
    EXPECT_NEAR(clear_sky_berdahl_martin(kAir, kDew, 13.0).in_celsius(), -17.83, 0.005);
    EXPECT_LT(clear_sky_berdahl_martin(kAir, kDew, 13.0, 90'000.0),
              clear_sky_berdahl_martin(kAir, kDew, 13.0));
}

// Worked out with the 5.6697e-8 W/m2/K4 of programs that use this formula; ours is CODATA's.
TEST(Sky, ClarkAndAllensCloudySky) {
    constexpr double kTheirs = 5.6697e-8;
    const double radiation = sky_radiation_clark_allen(kAir, kDew, 0.5);
    EXPECT_NEAR(radiation * kTheirs / kRadiation, 285.133, 5e-4);
    EXPECT_NEAR(sky_temperature(radiation).in_celsius(), -6.850, 5e-4);
    EXPECT_LT(sky_radiation_clark_allen(kAir, kDew, 0.0), radiation);
}

}  // namespace
}  // namespace beetwright::weather
