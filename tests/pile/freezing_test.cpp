#include "pile/freezing.hpp"

#include <gtest/gtest.h>

#include <array>

#include "pile/beds.hpp"
#include "weather/air.hpp"

namespace beetwright::pile {
namespace {

HeatContent beet() {
    const auto c = central_pile();
    return {c.heat_capacity, c.frozen_heat_capacity, c.freezing_water * kMeltingHeat,
            c.lump.freezing_C};
}

TEST(Freezing, TemperatureAndEnthalpyAreEachOthersInverse) {
    for (const auto& cell :
         {beet(), HeatContent{2.5e6, 2.5e6, 0.0, -1.0}, HeatContent{1.0, 1.0, 1e4, -1e-3}}) {
        for (double t = -40.0; t < 30.0; t += 0.0937) {
            EXPECT_NEAR(temperature(enthalpy(t, cell), cell), t, 1e-9 * (1.0 + std::abs(t)));
        }
    }
}

TEST(Freezing, CapacityIsTheSlopeOfEnthalpy) {
    const auto cell = beet();
    for (double t = -30.04; t < 20.0; t += 0.31) {  // not at -1.2 °C, where it has a corner
        constexpr double kStep = 1e-5;
        const double slope =
            (enthalpy(t + kStep, cell) - enthalpy(t - kStep, cell)) / (2.0 * kStep);
        EXPECT_NEAR(apparent_capacity(t, cell), slope, 1e-5 * slope) << t;
    }
}

// Tchigeov's ice in beet of 76.5 % water [C]; the curve follows within 0.06 kg/kg.
TEST(Freezing, FollowsTchigeovsIce) {
    const auto c = central_pile();
    struct Row {
        double celsius, ice;
    };
    for (const auto& row :
         {Row{-2.5, .306}, Row{-3, .4165}, Row{-4, .512}, Row{-5, .558}, Row{-8, .6185},
          Row{-10, .638}, Row{-15, .665}, Row{-20, .680}, Row{-30, .6975}}) {
        EXPECT_NEAR(c.freezing_water * ice_share(row.celsius, c.lump.freezing_C), row.ice, 0.06)
            << row.celsius;
    }
}

// Against weather/air.hpp, whose formulas are held to the handbook's table there.
TEST(Humid, SaturationIsTheHandbooks) {
    for (double t = -55.0; t < 59.0; t += 0.0371) {
        const double truth = weather::saturation_pressure_Pa(Temperature::celsius(t));
        EXPECT_NEAR(saturation_Pa(t), truth, 6e-7 * truth) << t;
    }
    EXPECT_NEAR(saturation_Pa(0.01 + 1e-9), saturation_Pa(0.01 - 1e-9), 1e-3);
    const double w = weather::humidity_ratio(800.0, kAirPressure_Pa);
    EXPECT_NEAR(humidity_ratio_of(800.0), w, 1e-12);
    EXPECT_NEAR(vapour_Pa(w), 800.0, 1e-9);
    const double volume = weather::specific_volume(Temperature::celsius(5.0), w, kAirPressure_Pa);
    EXPECT_NEAR(dry_air_density(5.0, w), 1.0 / volume, 1e-6);
}

}  // namespace
}  // namespace beetwright::pile
