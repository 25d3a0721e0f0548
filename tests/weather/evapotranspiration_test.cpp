// FAO Irrigation and Drainage Paper 56: its own examples, by their numbers, each to half of the
// last figure printed there; and the independent program REF-ET.
#include "weather/evapotranspiration.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace beetwright::weather {
namespace {

constexpr Temperature C(double celsius) {
    return Temperature::celsius(celsius);
}

TEST(Fao56, Example2PressureAndPsychrometricConstant) {
    EXPECT_NEAR(fao_pressure_kPa(1800.0), 81.8, 0.05);
    EXPECT_NEAR(fao_psychrometric_kPa_per_K(81.8), 0.054, 5e-4);
}

TEST(Fao56, Examples3To5Humidity) {
    EXPECT_NEAR(fao_saturation_kPa(C(24.5), C(15.0)), 2.39, 0.005);
    EXPECT_NEAR(fao_vapour_kPa_from_wet_bulb(C(25.6), C(19.5), 87.9), 1.91, 0.005);
    EXPECT_NEAR(fao_saturation_kPa(C(25.0)), 3.168, 5e-4);
    EXPECT_NEAR(fao_saturation_kPa(C(18.0)), 2.064, 5e-4);
    EXPECT_NEAR(fao_vapour_kPa(C(25.0), C(18.0), 0.82, 0.54), 1.70, 0.005);
}

TEST(Fao56, Examples8And9TheSunInSeptemberAt20South) {
    constexpr double kLatitude = -20.0 * kDegree;
    EXPECT_NEAR(inverse_relative_distance(246), 0.985, 5e-4);
    EXPECT_NEAR(declination_rad(246), 0.120, 5e-4);
    EXPECT_NEAR(sunset_hour_angle_rad(kLatitude, 246), 1.527, 5e-4);
    EXPECT_NEAR(radiation_outside_air_MJ(kLatitude, 246), 32.2, 0.05);
    EXPECT_NEAR(daylight_hours(kLatitude, 246), 11.7, 0.05);
}

// Rio de Janeiro, 22.9 S, 15 May: 220 hours of sun in the month, 19.1 to 25.1 °C, 2.1 kPa.
TEST(Fao56, Examples10To12RadiationInRio) {
    const double outside = radiation_outside_air_MJ(-22.9 * kDegree, 135);
    const double daylight = daylight_hours(-22.9 * kDegree, 135);
    const double shine = sunshine_from_hours_MJ(outside, 220.0 / 31.0, daylight);
    EXPECT_NEAR(shine, 14.45, 0.05);
    const double clear = clear_sunshine_MJ(outside, 0.0);
    const double longwave = net_longwave_MJ(C(25.1), C(19.1), 2.1, shine / clear);
    EXPECT_NEAR(longwave, 3.5, 0.05);
    EXPECT_NEAR(net_shortwave_MJ(shine), 11.1, 0.05);
}

TEST(Fao56, Examples14And15WindAndSunshine) {
    EXPECT_NEAR(wind_at_2m(3.2, 10.0), 2.4, 0.05);
    // Lyon, 45.72 N, July: 14.8 to 26.6 °C.
    const double outside = radiation_outside_air_MJ(45.72 * kDegree, 196);
    EXPECT_NEAR(sunshine_from_temperatures_MJ(outside, C(26.6), C(14.8)), 22.3, 0.05);
}

TEST(Fao56, Example17AMonthInBangkok) {
    const double slope = fao_slope_kPa_per_K(C(30.2));
    EXPECT_NEAR(reference_evapotranspiration(14.33, 0.14, C(30.2), 2.0, 4.42, 2.85, slope,
                                             fao_psychrometric_kPa_per_K(fao_pressure_kPa(2.0))),
                5.72, 0.01);  // the book rounds slope and constant on the way
}

// Brussels, 50.80 N, 100 m, 6 July.
TEST(Fao56, Example18ADayInBrussels) {
    const auto place = Place::degrees(50.80, 4.35, 100.0);
    constexpr int kDay = 187;
    const double wind = wind_at_2m(10.0 / 3.6, 10.0);
    EXPECT_NEAR(wind, 2.078, 5e-4);
    EXPECT_NEAR(fao_saturation_kPa(C(21.5), C(12.3)), 1.997, 5e-4);
    const double vapour = fao_vapour_kPa(C(21.5), C(12.3), 0.84, 0.63);
    EXPECT_NEAR(vapour, 1.409, 5e-4);
    const double outside = radiation_outside_air_MJ(place.latitude_rad, kDay);
    EXPECT_NEAR(outside, 41.09, 0.005);
    EXPECT_NEAR(daylight_hours(place.latitude_rad, kDay), 16.1, 0.05);
    const double shine =
        sunshine_from_hours_MJ(outside, 9.25, daylight_hours(place.latitude_rad, kDay));
    EXPECT_NEAR(shine, 22.07, 0.01);
    const double clear = clear_sunshine_MJ(outside, 100.0);
    EXPECT_NEAR(clear, 30.90, 0.005);
    EXPECT_NEAR(net_shortwave_MJ(shine), 17.00, 0.01);
    EXPECT_NEAR(net_longwave_MJ(C(21.5), C(12.3), vapour, shine / clear), 3.71, 0.01);
    EXPECT_NEAR(reference_evapotranspiration({.day_of_year = kDay,
                                              .most = C(21.5),
                                              .least = C(12.3),
                                              .vapour_kPa = vapour,
                                              .wind_2m_m_s = wind,
                                              .sunshine = shine},
                                             place),
                3.880, 0.005);  // the book, which rounds on the way, prints 3.9
}

double maricopa(int day, double shine, double most, double least, double dew, double wind_3m) {
    return reference_evapotranspiration({.day_of_year = day,
                                         .most = C(most),
                                         .least = C(least),
                                         .vapour_kPa = fao_saturation_kPa(C(dew)),
                                         .wind_2m_m_s = wind_at_2m(wind_3m, 3.0),
                                         .sunshine = shine},
                                        Place::degrees(33.069, -111.97, 361.0));
}

// REF-ET, a program of its own, for five days of Maricopa (pyfao56, tests/test02).
TEST(Fao56, FiveDaysOfRefEt) {
    EXPECT_NEAR(maricopa(1, 12.48, 17.5, -0.5, -0.1, 1.0), 1.45, 0.0101);
    EXPECT_NEAR(maricopa(2, 12.68, 21.9, 0.4, -2.5, 2.0), 2.71, 0.0101);
    EXPECT_NEAR(maricopa(7, 11.08, 23.4, 13.4, 5.1, 5.8), 5.06, 0.0101);
    EXPECT_NEAR(maricopa(9, 9.15, 19.0, 7.6, 10.5, 0.9), 1.19, 0.0101);
    EXPECT_NEAR(maricopa(11, 12.37, 19.6, 6.1, 8.4, 1.3), 1.57, 0.0101);
}

TEST(Fao56, ThePolarNightAndDayAreNoTrouble) {
    EXPECT_DOUBLE_EQ(radiation_outside_air_MJ(75.0 * kDegree, 355), 0.0);
    EXPECT_DOUBLE_EQ(daylight_hours(75.0 * kDegree, 172), 24.0);
    const double night = reference_evapotranspiration({.day_of_year = 355,
                                                       .most = C(-10.0),
                                                       .least = C(-20.0),
                                                       .vapour_kPa = 0.1,
                                                       .wind_2m_m_s = 2.0,
                                                       .sunshine = 0.0},
                                                      Place::degrees(75.0, 0.0, 0.0));
    EXPECT_FALSE(std::isnan(night));
}

}  // namespace
}  // namespace beetwright::weather
