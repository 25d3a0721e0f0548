// Humid air. ASHRAE Handbook of Fundamentals 2017, chapter 1 (the formulas of Hyland and Wexler).
//
// Below the triple point, 0.01 °C, saturation is over ice, above over water: at 0 °C the two
// formulas differ by 0.05 Pa, and a model that switched there would see a jump.
// docs/methods/air.md.
#pragma once

#include "base/quantity.hpp"

namespace beetwright::weather {

inline constexpr double kSeaLevel_Pa = 101'325.0;

/// Pressure of the standard atmosphere [Pa].
double pressure_at(double elevation_m);

/// Pressure of vapour over water, or ice [Pa]; from -100 to 200 °C.
double saturation_pressure_Pa(Temperature air);

/// Water per dry air [kg/kg] at a pressure of vapour.
double humidity_ratio(double vapour_Pa, double pressure_Pa);
double vapour_pressure_Pa(double humidity_ratio, double pressure_Pa);

/// The temperature at which air of this vapour pressure is saturated. Good to 1e-9 K.
Temperature dew_point(double vapour_Pa);

/// The temperature that a wet thermometer falls to in moving air. Good to 1e-9 K.
Temperature wet_bulb(Temperature air, double humidity_ratio, double pressure_Pa);
double humidity_ratio_from_wet_bulb(Temperature air, Temperature wet_bulb, double pressure_Pa);

/// Per dry air, 0 at 0 °C without water [J/kg].
double enthalpy_J_per_kg(Temperature air, double humidity_ratio);
/// Of the mixture per dry air [m3/kg].
double specific_volume(Temperature air, double humidity_ratio, double pressure_Pa);

}  // namespace beetwright::weather
