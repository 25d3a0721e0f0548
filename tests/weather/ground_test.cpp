#include "weather/ground.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

namespace beetwright::weather {
namespace {

const GroundYear kYear{.mean = Temperature::celsius(9.0),
                       .amplitude = TemperatureDifference(11.0),
                       .coldest_day = 25.0,
                       .diffusivity_m2_day = 0.0553};

// Worked out from the formula of Kusuda and Achenbach (1965) apart from this program.
TEST(Ground, TheYearsWaveAtFiveDepths) {
    constexpr std::array kDays{25.0, 120.0, 210.0, 300.0, 350.0};
    const struct {
        double depth_m;
        std::array<double, 5> celsius;
    } rows[] = {{0.0, {-2.0000, 9.7096, 19.9898, 8.7633, 0.5063}},
                {0.5, {0.1444, 7.8051, 17.9236, 10.5789, 3.2867}},
                {1.0, {2.1555, 6.5978, 15.9608, 11.7018, 5.5257}},
                {2.0, {5.4794, 5.6882, 12.6699, 12.4697, 8.5350}},
                {5.0, {9.5984, 7.5561, 8.4628, 10.4208, 10.3568}}};
    for (const auto& row : rows) {
        for (std::size_t k = 0; k < kDays.size(); ++k) {
            EXPECT_NEAR(ground_temperature(kYear, Length(row.depth_m), kDays[k]).in_celsius(),
                        row.celsius[k], 5e-5)
                << row.depth_m << " m, day " << kDays[k];
        }
    }
}

TEST(Ground, TheWaveFallsToAThirdWithinItsDampingDepth) {
    EXPECT_NEAR(damping_depth(kYear).si(), 2.5347, 5e-5);
    GroundYear wet = kYear;
    wet.diffusivity_m2_day = 1e-6 * 86'400.0;
    // The engineering reference of an open building-energy program prints 3.17 m.
    EXPECT_NEAR(damping_depth(wet).si(), 3.17, 0.005);
}

// The wave solves the equation of conduction: dT/dt = a d2T/dz2, by central differences.
TEST(Ground, ConductsAsFourierSays) {
    constexpr double h = 0.01;
    for (double depth = 0.3; depth < 3.0; depth += 0.9) {
        const auto at = [&](double z, double day) {
            return ground_temperature(kYear, Length(z), day).in_celsius();
        };
        const double rate = (at(depth, 100.0 + h) - at(depth, 100.0 - h)) / (2.0 * h);
        const double bend =
            (at(depth + h, 100.0) - 2.0 * at(depth, 100.0) + at(depth - h, 100.0)) / (h * h);
        EXPECT_NEAR(rate, kYear.diffusivity_m2_day * bend, 1e-5) << depth;
    }
}

}  // namespace
}  // namespace beetwright::weather
