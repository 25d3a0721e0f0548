// Breathing in its different measures: sugar, carbon dioxide, heat, water.
//
//     C12H22O11 + 12 O2 -> 12 CO2 + 11 H2O + 5640 kJ/mol
//
// Molar masses 342.297, 44.0095, 31.998 and 18.0153 g/mol.
#pragma once

namespace beetwright::pile {

inline constexpr double kSucrose_g_mol = 342.297;
inline constexpr double kCarbonDioxide_g_mol = 44.0095;
inline constexpr double kOxygen_g_mol = 31.998;
inline constexpr double kWater_g_mol = 18.0153;
inline constexpr double kHeat_kJ_mol = 5640.0;

/// Of each kg of sugar breathed: kg of water made, of carbon dioxide given off, of oxygen used.
inline constexpr double kWaterMadePerSugar = 11.0 * kWater_g_mol / kSucrose_g_mol;
inline constexpr double kCarbonDioxidePerSugar = 12.0 * kCarbonDioxide_g_mol / kSucrose_g_mol;
inline constexpr double kOxygenPerSugar = 12.0 * kOxygen_g_mol / kSucrose_g_mol;
/// Heat of 1 g of sugar breathed [J].
inline constexpr double kHeat_J_g = 1000.0 * kHeat_kJ_mol / kSucrose_g_mol;

/// g of sugar per t of beet and day, as watts per t of beet.
constexpr double heat_W_per_t(double sugar_g_per_t_day) {
    return sugar_g_per_t_day * kHeat_J_g / 86400.0;
}
/// mg of carbon dioxide per kg of beet and hour, as g of sugar per t and day.
constexpr double sugar_g_per_t_day(double carbon_dioxide_mg_per_kg_hour) {
    return carbon_dioxide_mg_per_kg_hour * 24.0 / kCarbonDioxidePerSugar;
}
/// Warming of beet that keeps all its heat [K per day]; heat capacity in kJ/kg/K.
constexpr double adiabatic_K_per_day(double heat_W_t, double heat_capacity_kJ_kg_K) {
    return heat_W_t * 86400.0 / 1e6 / heat_capacity_kJ_kg_K;
}

}  // namespace beetwright::pile
