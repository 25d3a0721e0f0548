// Humid air as the loops over cells need it: without calls, so that they run in wide registers.
//
// Saturation is a polynomial in the logarithm, fitted to the formulas of Hyland and Wexler that
// weather/air.hpp has, within 3e-7 from -60 to 60 °C, over ice below the triple point and over
// water above.
#pragma once

#include "num/exponential.hpp"

namespace beetwright::pile {

inline constexpr double kAirPressure_Pa = 101'325.0;
inline constexpr double kAirCapacity = 1006.0;     ///< [J/kg/K]
inline constexpr double kVapourCapacity = 1860.0;  ///< [J/kg/K]
/// Of the air in pores, with the little vapour it holds [J/kg dry air/K].
inline constexpr double kHumidCapacity = kAirCapacity + 0.005 * kVapourCapacity;
inline constexpr double kEvaporation = 2.501e6;     ///< heat of, at 0 °C [J/kg]
inline constexpr double kAirGasConstant = 287.042;  ///< of dry air [J/kg/K]
inline constexpr double kWaterToAir = 0.621945;     ///< molar masses
inline constexpr double kAirViscosity = 1.74e-5;    ///< at 5 °C [Pa s]
inline constexpr double kAirConductivity = 0.0243;  ///< at 5 °C [W/m/K]
inline constexpr double kGravity = 9.80665;         ///< [m/s2]
inline constexpr double kZeroCelsius = 273.15;      ///< [K]
/// Vapour in air at 5 °C [m2/s]; CO2 spreads a third slower, which nothing here would show.
inline constexpr double kDiffusivity = 2.2e-5;

/// Pressure of saturated vapour [Pa].
inline double saturation_Pa(double celsius) {
    const double t = celsius;
    const double t2 = t * t;
    const double t4 = t2 * t2;
    const double water =
        ((6.4154453237751525 + t * 0.07264524669613552) +
         t2 * (-2.9853473705315867e-4 + t * 1.1330592970169125e-06)) +
        t4 * ((-4.034831461183995e-09 + t * 1.2890310797462026e-11) + t2 * -2.649979847448911e-14);
    const double ice =
        ((6.415348124539782 + t * 0.08234646755644194) +
         t2 * (-3.0450431581180735e-4 + t * 1.0822504827227228e-06)) +
        t4 * ((-4.205444387377659e-09 + t * 7.710349913264749e-12) + t2 * -1.1940674919218287e-13);
    return num::exponential(t < 0.01 ? ice : water);
}

/// Vapour's pressure [Pa] at a humidity ratio [kg/kg dry air].
inline double vapour_Pa(double humidity_ratio) {
    return kAirPressure_Pa * humidity_ratio / (kWaterToAir + humidity_ratio);
}
inline double humidity_ratio_of(double vapour_Pa) {
    return kWaterToAir * vapour_Pa / (kAirPressure_Pa - vapour_Pa);
}

/// Dry air in a cubic metre of humid air [kg/m3].
inline double dry_air_density(double celsius, double humidity_ratio) {
    return kAirPressure_Pa /
           (kAirGasConstant * (celsius + kZeroCelsius) * (1.0 + humidity_ratio / kWaterToAir));
}
/// Of humid air [kg/m3].
inline double air_density(double celsius, double humidity_ratio) {
    return dry_air_density(celsius, humidity_ratio) * (1.0 + humidity_ratio);
}

}  // namespace beetwright::pile
