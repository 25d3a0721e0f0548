#include "weather/sky.hpp"

#include <cmath>
#include <numbers>

namespace beetwright::weather {

Temperature clear_sky_swinbank(Temperature air) {
    return Temperature::kelvin(0.0552 * std::pow(air.in_kelvin(), 1.5));
}

Temperature clear_sky_berdahl_martin(Temperature air, Temperature dew_point, double solar_hour,
                                     double pressure_Pa) {
    const double dew = dew_point.in_celsius();
    const double emissivity = 0.711 + 0.0056 * dew + 7.3e-5 * dew * dew +
                              0.013 * std::cos(2.0 * std::numbers::pi * solar_hour / 24.0) +
                              0.12 * (pressure_Pa / 101'325.0 - 1.0);
    return Temperature::kelvin(air.in_kelvin() * std::pow(emissivity, 0.25));
}

double sky_radiation_clark_allen(Temperature air, Temperature dew_point, double cloud_cover) {
    const double tenths = 10.0 * cloud_cover;
    const double clear = 0.787 + 0.764 * std::log(dew_point.in_kelvin() / 273.0);
    const double clouds = 1.0 + tenths * (0.0224 + tenths * (-0.0035 + tenths * 0.00028));
    return clear * clouds * kRadiation * std::pow(air.in_kelvin(), 4.0);
}

Temperature sky_temperature(double radiation_W_m2) {
    return Temperature::kelvin(std::pow(radiation_W_m2 / kRadiation, 0.25));
}

}  // namespace beetwright::weather
