// The units people write and read, metric and US customary. Only readers and writers use this
// table; everything between them holds SI in typed quantities (quantity.hpp).
#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace beetwright {

/// What a unit measures. The basis of a mass (with soil, clean, sugar) is said by the column or the
/// constant that carries the unit, not by the unit itself.
enum class UnitKind {
    number,                  ///< a plain count or ratio, symbol "1"
    fraction,                ///< [kg/kg] or [1/1]: "%", "g/kg"
    length,                  ///< [m]
    area,                    ///< [m2]
    volume,                  ///< [m3]
    mass,                    ///< [kg]
    mass_per_area,           ///< [kg/m2]
    density,                 ///< [kg/m3]
    temperature,             ///< [K], a point on the scale
    temperature_difference,  ///< [K]
    duration,                ///< [s]
    thermal_time,            ///< [K s]
    speed,                   ///< [m/s]
    amount_content,          ///< [mol/kg]
    loss_rate,               ///< [kg/kg/s]
    per_length,              ///< [1/m]
    per_area,                ///< [1/m2]
    money,                   ///< one unit of the season's currency
    money_per_mass,          ///< [money/kg]
    money_per_area,          ///< [money/m2]
    money_per_mass_length,   ///< [money/kg/m]
    money_per_time,          ///< [money/s]
    angle,                   ///< [rad]
    pressure,                ///< [Pa]
    irradiance,              ///< [W/m2]
    rotation,                ///< [rev/s]
    force,                   ///< [N]
    per_speed,               ///< [s/m]
    volume_per_area,         ///< [m3/m2]
    volume_per_time,         ///< [m3/s]
    money_per_volume,        ///< [money/m3]
    area_per_time,           ///< [m2/s]
    power,                   ///< [W]
    conductivity,            ///< [W/m/K]
    heat_transfer,           ///< [W/m2/K]
    heat_resistance,         ///< [m2 K/W]
    heat_capacity,           ///< [J/kg/K]
    heat_capacity_volume,    ///< [J/m3/K]
    vapour_transfer,         ///< [kg/m2/s/Pa]
    air_resistance,          ///< [Pa s m2/kg]
    money_per_energy,        ///< [money/J]
};

enum class UnitSystem { metric, us, both };

struct Unit {
    std::string_view symbol;
    UnitKind kind;
    double factor;  ///< SI value = factor * number + offset
    double offset;
    UnitSystem system;

    [[nodiscard]] constexpr double to_si(double number) const { return factor * number + offset; }
    [[nodiscard]] constexpr double from_si(double si) const { return (si - offset) / factor; }
};

/// Every unit known, in a fixed order.
std::span<const Unit> all_units();

/// The unit with exactly this symbol, e.g. "t/ha", "short ton/acre", "°F", "mmol/100 g", "money/t".
std::optional<Unit> find_unit(std::string_view symbol);

}  // namespace beetwright
