// Conversions of breathing; storage.md 1.1 [C], computed there with 20 digits from the
// stoichiometry.
#include "pile/conversions.hpp"

#include <gtest/gtest.h>

#include <array>

namespace beetwright::pile {
namespace {

TEST(Conversions, OfOneGramOfSugar) {
    EXPECT_NEAR(kHeat_J_g, 16476.9, 0.1);
    EXPECT_NEAR(kCarbonDioxidePerSugar, 1.54286, 1e-5);
    EXPECT_NEAR(kOxygenPerSugar, 1.1218, 1e-4);
    EXPECT_NEAR(kWaterMadePerSugar, 0.5789, 1e-4);
}

TEST(Conversions, OfOneMilligramOfCarbonDioxidePerKilogramAndHour) {
    EXPECT_NEAR(sugar_g_per_t_day(1.0), 15.5556, 1e-3);
    EXPECT_NEAR(heat_W_per_t(sugar_g_per_t_day(1.0)), 2.96653, 1e-3);
}

TEST(Conversions, TableOfSugarCarbonDioxideHeatAndWarming) {
    struct Row {
        double sugar_g_t_d, heat_W_t, carbon_dioxide_mg_kg_h, warming_K_d;
    };
    constexpr std::array rows{Row{50, 9.535, 3.214, 0.220},    Row{100, 19.071, 6.429, 0.439},
                              Row{125, 23.838, 8.036, 0.549},  Row{150, 28.606, 9.643, 0.659},
                              Row{200, 38.141, 12.857, 0.879}, Row{250, 47.676, 16.071, 1.098},
                              Row{400, 76.282, 25.714, 1.758}};
    for (const Row& row : rows) {
        EXPECT_NEAR(heat_W_per_t(row.sugar_g_t_d), row.heat_W_t, 1e-3);
        EXPECT_NEAR(sugar_g_per_t_day(row.carbon_dioxide_mg_kg_h), row.sugar_g_t_d, 0.02);
        EXPECT_NEAR(adiabatic_K_per_day(row.heat_W_t, 3.75), row.warming_K_d, 6e-4);
    }
}

}  // namespace
}  // namespace beetwright::pile
