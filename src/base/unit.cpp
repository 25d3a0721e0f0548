#include "base/unit.hpp"

#include <algorithm>
#include <array>
#include <numbers>

#include "base/quantity.hpp"

namespace beetwright {
namespace {

using enum UnitKind;
constexpr UnitSystem metric = UnitSystem::metric;
constexpr UnitSystem us = UnitSystem::us;
constexpr UnitSystem both = UnitSystem::both;

constexpr double kAcre = unit::acre.si();
constexpr double kGallon = 231.0 * 0.0254 * 0.0254 * 0.0254;  // [m3], US liquid: 231 cubic inches
constexpr double kCubicFoot = 0.3048 * 0.3048 * 0.3048;       // [m3]
constexpr double kMinute = 60.0;
constexpr double kHour = 3600.0;
constexpr double kDay = 86400.0;
constexpr double kStandardGravity = 9.80665;  // [m/s2], as defined in 1901

// Exact by definition (international yard and pound, 1959; acre of 43,560 square feet).
// Amount of K, Na and N in mg/kg by molar masses 39.098, 22.990, 14.007 g/mol is not a unit but a
// conversion that needs the element: see worth/.
constexpr std::array kUnits{
    Unit{"1", number, 1.0, 0.0, both},
    Unit{"%", fraction, 0.01, 0.0, both},
    Unit{"fraction", fraction, 1.0, 0.0, both},
    Unit{"kg/kg", fraction, 1.0, 0.0, both},
    Unit{"g/kg", fraction, 1e-3, 0.0, metric},
    Unit{"kg/t", fraction, 1e-3, 0.0, metric},
    Unit{"lb/short ton", fraction, 1.0 / 2000.0, 0.0, us},
    Unit{"%/cm", per_length, 1.0, 0.0, metric},
    Unit{"1/m", per_length, 1.0, 0.0, metric},
    Unit{"1/cm", per_length, 100.0, 0.0, metric},
    Unit{"1/m2", per_area, 1.0, 0.0, metric},
    Unit{"1/ha", per_area, 1e-4, 0.0, metric},
    Unit{"1/acre", per_area, 1.0 / kAcre, 0.0, us},
    Unit{"m", length, 1.0, 0.0, metric},
    Unit{"cm", length, 0.01, 0.0, metric},
    Unit{"mm", length, 0.001, 0.0, metric},
    Unit{"km", length, 1000.0, 0.0, metric},
    Unit{"in", length, 0.0254, 0.0, us},
    Unit{"ft", length, 0.3048, 0.0, us},
    Unit{"mi", length, 1609.344, 0.0, us},
    Unit{"m2", area, 1.0, 0.0, metric},
    Unit{"cm2", area, 1e-4, 0.0, metric},
    Unit{"ha", area, 1e4, 0.0, metric},
    Unit{"sq in", area, 0.0254 * 0.0254, 0.0, us},
    Unit{"sq ft", area, 0.3048 * 0.3048, 0.0, us},
    Unit{"acre", area, kAcre, 0.0, us},
    Unit{"cm3", volume, 1e-6, 0.0, metric},
    Unit{"m3", volume, 1.0, 0.0, metric},
    Unit{"kg", mass, 1.0, 0.0, metric},
    Unit{"g", mass, 1e-3, 0.0, metric},
    Unit{"t", mass, kg_per_tonne, 0.0, metric},
    Unit{"lb", mass, kg_per_pound, 0.0, us},
    Unit{"short ton", mass, kg_per_short_ton, 0.0, us},
    Unit{"t/ha", mass_per_area, kg_per_tonne / 1e4, 0.0, metric},
    Unit{"kg/ha", mass_per_area, 1e-4, 0.0, metric},
    Unit{"kg/m2", mass_per_area, 1.0, 0.0, metric},
    Unit{"short ton/acre", mass_per_area, kg_per_short_ton / kAcre, 0.0, us},
    Unit{"lb/acre", mass_per_area, kg_per_pound / kAcre, 0.0, us},
    Unit{"kg/m3", density, 1.0, 0.0, metric},
    Unit{"°C", temperature, 1.0, 273.15, metric},
    Unit{"°F", temperature, 1.0 / 1.8, 273.15 - 32.0 / 1.8, us},
    Unit{"K", temperature_difference, 1.0, 0.0, metric},
    Unit{"C°", temperature_difference, 1.0, 0.0, metric},  // a difference; °C is a reading
    Unit{"F°", temperature_difference, 1.0 / 1.8, 0.0, us},
    Unit{"s", duration, 1.0, 0.0, both},
    Unit{"h", duration, kHour, 0.0, both},
    Unit{"d", duration, kDay, 0.0, both},
    Unit{"°C·d", thermal_time, kDay, 0.0, metric},
    Unit{"°F·d", thermal_time, kDay / 1.8, 0.0, us},
    Unit{"m/s", speed, 1.0, 0.0, metric},
    Unit{"km/h", speed, 1.0 / 3.6, 0.0, metric},
    Unit{"mph", speed, 1609.344 / kHour, 0.0, us},
    Unit{"mmol/100 g", amount_content, 0.01, 0.0, metric},
    Unit{"mmol/kg", amount_content, 0.001, 0.0, metric},
    Unit{"g/t/d", loss_rate, 1e-6 / kDay, 0.0, metric},
    Unit{"lb/short ton/d", loss_rate, 1.0 / 2000.0 / kDay, 0.0, us},
    Unit{"money", money, 1.0, 0.0, both},
    Unit{"money/t", money_per_mass, 1e-3, 0.0, metric},
    Unit{"money/kg", money_per_mass, 1.0, 0.0, metric},
    Unit{"money/lb", money_per_mass, 1.0 / kg_per_pound, 0.0, us},
    Unit{"money/short ton", money_per_mass, 1.0 / kg_per_short_ton, 0.0, us},
    Unit{"money/ha", money_per_area, 1e-4, 0.0, metric},
    Unit{"money/acre", money_per_area, 1.0 / kAcre, 0.0, us},
    Unit{"money/t/km", money_per_mass_length, 1e-6, 0.0, metric},
    Unit{"money/t/mi", money_per_mass_length, 1e-3 / 1609.344, 0.0, both},  // British haulage
    Unit{"money/short ton/mi", money_per_mass_length, 1.0 / (kg_per_short_ton * 1609.344), 0.0, us},
    Unit{"money/h", money_per_time, 1.0 / kHour, 0.0, both},
    Unit{"°", angle, std::numbers::pi / 180.0, 0.0, both},
    Unit{"kn", speed, 1852.0 / kHour, 0.0, both},
    Unit{"Pa", pressure, 1.0, 0.0, metric},
    Unit{"hPa", pressure, 100.0, 0.0, metric},
    Unit{"kPa", pressure, 1000.0, 0.0, metric},
    Unit{"mbar", pressure, 100.0, 0.0, metric},
    Unit{"bar", pressure, 1e5, 0.0, metric},
    Unit{"psi", pressure, kg_per_pound* kStandardGravity / (0.0254 * 0.0254), 0.0, us},
    Unit{"inHg", pressure, 3386.389, 0.0, us},
    Unit{"inH2O", pressure, 1000.0 * kStandardGravity * 0.0254, 0.0, us},  // of 1000 kg/m3
    Unit{"W/m2", irradiance, 1.0, 0.0, both},
    Unit{"MJ/m2/d", irradiance, 1e6 / kDay, 0.0, metric},
    Unit{"rpm", rotation, 1.0 / 60.0, 0.0, both},
    Unit{"N", force, 1.0, 0.0, metric},
    Unit{"lbf", force, kg_per_pound* kStandardGravity, 0.0, us},
    Unit{"h/km", per_speed, 3.6, 0.0, metric},
    Unit{"h/mi", per_speed, kHour / 1609.344, 0.0, us},
    Unit{"L/ha", volume_per_area, 1e-7, 0.0, metric},
    Unit{"gal/acre", volume_per_area, kGallon / kAcre, 0.0, us},
    Unit{"L/h", volume_per_time, 1e-3 / kHour, 0.0, metric},
    Unit{"gal/h", volume_per_time, kGallon / kHour, 0.0, us},
    Unit{"m3/h", volume_per_time, 1.0 / kHour, 0.0, metric},
    Unit{"cu ft/min", volume_per_time, kCubicFoot / kMinute, 0.0, us},
    Unit{"money/L", money_per_volume, 1e3, 0.0, metric},
    Unit{"money/gal", money_per_volume, 1.0 / kGallon, 0.0, us},
    Unit{"ha/h", area_per_time, 1e4 / kHour, 0.0, metric},
    Unit{"acre/h", area_per_time, kAcre / kHour, 0.0, us},
    Unit{"W", power, 1.0, 0.0, metric},
    Unit{"kW", power, 1000.0, 0.0, both},
    Unit{"money/kWh", money_per_energy, 1.0 / 3.6e6, 0.0, both},
    Unit{"hp", power, 550.0 * 0.3048 * kg_per_pound* kStandardGravity, 0.0, us},
    Unit{"W/m/K", conductivity, 1.0, 0.0, both},
    Unit{"W/m2/K", heat_transfer, 1.0, 0.0, both},
    Unit{"m2·K/W", heat_resistance, 1.0, 0.0, both},
    Unit{"kJ/kg/K", heat_capacity, 1e3, 0.0, both},
    Unit{"MJ/m3/K", heat_capacity_volume, 1e6, 0.0, both},
    Unit{"µg/m2/s/Pa", vapour_transfer, 1e-9, 0.0, both},
    Unit{"Pa·s·m2/kg", air_resistance, 1.0, 0.0, both},
};

}  // namespace

std::span<const Unit> all_units() {
    return kUnits;
}

std::optional<Unit> find_unit(std::string_view symbol) {
    const auto found = std::ranges::find(kUnits, symbol, &Unit::symbol);
    if (found == kUnits.end()) {
        return std::nullopt;
    }
    return *found;
}

}  // namespace beetwright
