#include "weather/air.hpp"

#include <cmath>

namespace beetwright::weather {
namespace {

constexpr double kTriplePoint_K = 273.16;
constexpr double kWaterToAir = 0.621945;  ///< molar masses

/// Where `f`, rising, is zero between two temperatures [°C].
template <class Function>
Temperature root_between(double low, double high, Function&& f) {
    constexpr double kGoodEnough = 1e-10;
    while (high - low > kGoodEnough) {
        const double middle = 0.5 * (low + high);
        (f(middle) < 0.0 ? low : high) = middle;
    }
    return Temperature::celsius(0.5 * (low + high));
}

}  // namespace

double pressure_at(double elevation_m) {
    return kSeaLevel_Pa * std::pow(1.0 - 2.25577e-5 * elevation_m, 5.2559);
}

double saturation_pressure_Pa(Temperature air) {
    const double t = air.in_kelvin();
    if (t < kTriplePoint_K) {
        return std::exp(
            -5.6745359e3 / t + 6.3925247 +
            t * (-9.677843e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 - t * 9.484024e-13))) +
            4.1635019 * std::log(t));
    }
    return std::exp(-5.8002206e3 / t + 1.3914993 +
                    t * (-4.8640239e-2 + t * (4.1764768e-5 - t * 1.4452093e-8)) +
                    6.5459673 * std::log(t));
}

double humidity_ratio(double vapour_Pa, double pressure_Pa) {
    return kWaterToAir * vapour_Pa / (pressure_Pa - vapour_Pa);
}

double vapour_pressure_Pa(double humidity_ratio, double pressure_Pa) {
    return pressure_Pa * humidity_ratio / (kWaterToAir + humidity_ratio);
}

Temperature dew_point(double vapour_Pa) {
    return root_between(-100.0, 200.0, [&](double celsius) {
        return saturation_pressure_Pa(Temperature::celsius(celsius)) - vapour_Pa;
    });
}

double humidity_ratio_from_wet_bulb(Temperature air, Temperature wet, double pressure_Pa) {
    const double t = air.in_celsius();
    const double w = wet.in_celsius();
    const double saturated = humidity_ratio(saturation_pressure_Pa(wet), pressure_Pa);
    if (wet.in_kelvin() >= kTriplePoint_K) {
        return ((2501.0 - 2.326 * w) * saturated - 1.006 * (t - w)) /
               (2501.0 + 1.86 * t - 4.186 * w);
    }
    return ((2830.0 - 0.24 * w) * saturated - 1.006 * (t - w)) / (2830.0 + 1.86 * t - 2.1 * w);
}

Temperature wet_bulb(Temperature air, double humidity_ratio_now, double pressure_Pa) {
    const auto dew = dew_point(vapour_pressure_Pa(humidity_ratio_now, pressure_Pa));
    return root_between(dew.in_celsius(), air.in_celsius(), [&](double celsius) {
        return humidity_ratio_from_wet_bulb(air, Temperature::celsius(celsius), pressure_Pa) -
               humidity_ratio_now;
    });
}

double enthalpy_J_per_kg(Temperature air, double humidity_ratio_now) {
    const double t = air.in_celsius();
    return 1000.0 * (1.006 * t + humidity_ratio_now * (2501.0 + 1.86 * t));
}

double specific_volume(Temperature air, double humidity_ratio_now, double pressure_Pa) {
    constexpr double kGasConstant = 287.042;  ///< of dry air [J/kg/K]
    return kGasConstant * air.in_kelvin() * (1.0 + 1.607858 * humidity_ratio_now) / pressure_Pa;
}

}  // namespace beetwright::weather
