#include "weather/evapotranspiration.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace beetwright::weather {
namespace {

constexpr double kYearAngle = 2.0 * std::numbers::pi / 365.0;
constexpr double kSolarConstant_MJ_min = 0.0820;
constexpr double kMinutesOfDay = 24.0 * 60.0;
constexpr double kStefan_MJ_K4_day = 4.903e-9;
constexpr double kAlbedo = 0.23;     ///< of the reference grass
constexpr double kPaper_K = 273.16;  ///< the paper's zero of °C, kept in its equation 39

}  // namespace

double fao_pressure_kPa(double elevation_m) {
    return 101.3 * std::pow((293.0 - 0.0065 * elevation_m) / 293.0, 5.26);
}

double fao_psychrometric_kPa_per_K(double pressure_kPa) {
    return 0.665e-3 * pressure_kPa;
}

double fao_saturation_kPa(Temperature air) {
    const double t = air.in_celsius();
    return 0.6108 * std::exp(17.27 * t / (t + 237.3));
}

double fao_saturation_kPa(Temperature most, Temperature least) {
    return 0.5 * (fao_saturation_kPa(most) + fao_saturation_kPa(least));
}

double fao_slope_kPa_per_K(Temperature air) {
    const double above = air.in_celsius() + 237.3;
    return 4098.0 * fao_saturation_kPa(air) / (above * above);
}

double fao_vapour_kPa_from_wet_bulb(Temperature dry, Temperature wet, double pressure_kPa) {
    constexpr double kVentilated = 0.000662;
    return fao_saturation_kPa(wet) - kVentilated * pressure_kPa * (dry - wet).si();
}

double fao_vapour_kPa(Temperature most, Temperature least, double most_humidity,
                      double least_humidity) {
    return 0.5 *
           (fao_saturation_kPa(least) * most_humidity + fao_saturation_kPa(most) * least_humidity);
}

double inverse_relative_distance(int day_of_year) {
    return 1.0 + 0.033 * std::cos(kYearAngle * day_of_year);
}

double declination_rad(int day_of_year) {
    return 0.409 * std::sin(kYearAngle * day_of_year - 1.39);
}

double sunset_hour_angle_rad(double latitude_rad, int day_of_year) {
    const double cosine = -std::tan(latitude_rad) * std::tan(declination_rad(day_of_year));
    return std::acos(std::clamp(cosine, -1.0, 1.0));
}

DayEnergy_MJ radiation_outside_air_MJ(double latitude_rad, int day_of_year) {
    const double sunset = sunset_hour_angle_rad(latitude_rad, day_of_year);
    const double declination = declination_rad(day_of_year);
    return kMinutesOfDay / std::numbers::pi * kSolarConstant_MJ_min *
           inverse_relative_distance(day_of_year) *
           (sunset * std::sin(latitude_rad) * std::sin(declination) +
            std::cos(latitude_rad) * std::cos(declination) * std::sin(sunset));
}

double daylight_hours(double latitude_rad, int day_of_year) {
    return 24.0 / std::numbers::pi * sunset_hour_angle_rad(latitude_rad, day_of_year);
}

DayEnergy_MJ sunshine_from_hours_MJ(DayEnergy_MJ outside_air, double bright_hours,
                                    double daylight) {
    return (0.25 + 0.50 * bright_hours / daylight) * outside_air;
}

DayEnergy_MJ sunshine_from_temperatures_MJ(DayEnergy_MJ outside_air, Temperature most,
                                           Temperature least, double coefficient) {
    const double span_K = std::max(0.0, (most - least).si());
    return coefficient * std::sqrt(span_K) * outside_air;
}

DayEnergy_MJ clear_sunshine_MJ(DayEnergy_MJ outside_air, double elevation_m) {
    return (0.75 + 2e-5 * elevation_m) * outside_air;
}

DayEnergy_MJ net_shortwave_MJ(DayEnergy_MJ sunshine) {
    return (1.0 - kAlbedo) * sunshine;
}

DayEnergy_MJ net_longwave_MJ(Temperature most, Temperature least, double vapour_kPa,
                             double clearness) {
    const auto fourth = [](Temperature t) { return std::pow(t.in_celsius() + kPaper_K, 4.0); };
    return kStefan_MJ_K4_day * 0.5 * (fourth(most) + fourth(least)) *
           (0.34 - 0.14 * std::sqrt(vapour_kPa)) * (1.35 * std::min(clearness, 1.0) - 0.35);
}

double wind_at_2m(double wind_m_s, double height_m) {
    return wind_m_s * 4.87 / std::log(67.8 * height_m - 5.42);
}

Depth_mm reference_evapotranspiration(DayEnergy_MJ net_radiation, DayEnergy_MJ ground_heat,
                                      Temperature mean, double wind_2m_m_s, double saturation_kPa,
                                      double vapour_kPa, double slope_kPa_per_K,
                                      double psychrometric_kPa_per_K) {
    const double radiated = 0.408 * slope_kPa_per_K * (net_radiation - ground_heat);
    const double blown = psychrometric_kPa_per_K * 900.0 / (mean.in_celsius() + 273.0) *
                         wind_2m_m_s * (saturation_kPa - vapour_kPa);
    return (radiated + blown) /
           (slope_kPa_per_K + psychrometric_kPa_per_K * (1.0 + 0.34 * wind_2m_m_s));
}

Depth_mm reference_evapotranspiration(const EvaporationDay& day, const Place& place) {
    const auto mean = Temperature::celsius(0.5 * (day.most.in_celsius() + day.least.in_celsius()));
    const double outside = radiation_outside_air_MJ(place.latitude_rad, day.day_of_year);
    const double clear = clear_sunshine_MJ(outside, place.elevation_m);
    // Where the sun does not rise no clearness can be told; a half-clouded night is assumed.
    const double clearness = clear > 0.0 ? std::clamp(day.sunshine / clear, 0.3, 1.0) : 0.6;
    const double net = net_shortwave_MJ(day.sunshine) -
                       net_longwave_MJ(day.most, day.least, day.vapour_kPa, clearness);
    return reference_evapotranspiration(
        net, 0.0, mean, day.wind_2m_m_s, fao_saturation_kPa(day.most, day.least), day.vapour_kPa,
        fao_slope_kPa_per_K(mean),
        fao_psychrometric_kPa_per_K(fao_pressure_kPa(place.elevation_m)));
}

}  // namespace beetwright::weather
