// What a well-watered lawn evaporates: the reference that crops are measured against.
//
// Allen, Pereira, Raes and Smith (1998), Crop evapotranspiration, FAO Irrigation and Drainage Paper
// 56, chapters 2 to 4. Its own formulas are kept, also where air.hpp has better ones, because its
// coefficients were found with them. docs/methods/evapotranspiration.md.
#pragma once

#include "base/quantity.hpp"
#include "weather/place.hpp"

namespace beetwright::weather {

/// Water evaporated or fallen, as a depth [mm]; 1 mm is 1 kg/m2.
using Depth_mm = double;
/// Energy of a day [MJ/m2].
using DayEnergy_MJ = double;

// The parts, each with its equation's number in the paper. Pressures in kPa.
double fao_pressure_kPa(double elevation_m);                     ///< 7
double fao_psychrometric_kPa_per_K(double pressure_kPa);         ///< 8
double fao_saturation_kPa(Temperature air);                      ///< 11
double fao_saturation_kPa(Temperature most, Temperature least);  ///< 12
double fao_slope_kPa_per_K(Temperature air);                     ///< 13
/// 15: from a dry and a wet thermometer of a ventilated psychrometer.
double fao_vapour_kPa_from_wet_bulb(Temperature dry, Temperature wet, double pressure_kPa);
/// 17: from the day's most and least humidity, 0 to 1.
double fao_vapour_kPa(Temperature most, Temperature least, double most_humidity,
                      double least_humidity);
/// The earth's distance from the sun, inverse and relative (23), and the sun's declination (24).
double inverse_relative_distance(int day_of_year);
double declination_rad(int day_of_year);
/// 25. The sun does not set: pi; it does not rise: 0.
double sunset_hour_angle_rad(double latitude_rad, int day_of_year);
DayEnergy_MJ radiation_outside_air_MJ(double latitude_rad, int day_of_year);  ///< 21
double daylight_hours(double latitude_rad, int day_of_year);                  ///< 34
/// 35, by hours of bright sunshine, with the usual 0.25 and 0.50.
DayEnergy_MJ sunshine_from_hours_MJ(DayEnergy_MJ outside_air, double bright_hours,
                                    double daylight_hours);
/// 50: by the span of the day's temperatures; 0.16 inland, 0.19 by the sea.
DayEnergy_MJ sunshine_from_temperatures_MJ(DayEnergy_MJ outside_air, Temperature most,
                                           Temperature least, double coefficient = 0.16);
DayEnergy_MJ clear_sunshine_MJ(DayEnergy_MJ outside_air, double elevation_m);  ///< 37
DayEnergy_MJ net_shortwave_MJ(DayEnergy_MJ sunshine);                          ///< 38
/// 39. `clearness`: sunshine over clear sunshine; more than 1 counts as 1.
DayEnergy_MJ net_longwave_MJ(Temperature most, Temperature least, double vapour_kPa,
                             double clearness);
/// 47: wind over grass at 2 m from wind at another height above it.
double wind_at_2m(double wind_m_s, double height_m);

/// A day's weather as the reference needs it.
struct EvaporationDay {
    int day_of_year = 1;
    Temperature most;
    Temperature least;
    double vapour_kPa = 0.0;
    double wind_2m_m_s = 0.0;
    DayEnergy_MJ sunshine = 0.0;  ///< global, on the level
};

/// 6, with no heat into the ground over a day (42).
Depth_mm reference_evapotranspiration(const EvaporationDay& day, const Place& place);
/// 6 itself, where net radiation and the ground's heat are known.
Depth_mm reference_evapotranspiration(DayEnergy_MJ net_radiation, DayEnergy_MJ ground_heat,
                                      Temperature mean, double wind_2m_m_s, double saturation_kPa,
                                      double vapour_kPa, double slope_kPa_per_K,
                                      double psychrometric_kPa_per_K);

}  // namespace beetwright::weather
