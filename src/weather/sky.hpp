// What the sky radiates: its temperature, as a plane that faces it feels it. docs/methods/sky.md.
#pragma once

#include "base/quantity.hpp"

namespace beetwright::weather {

/// Stefan and Boltzmann's constant [W/m2/K4], CODATA 2018.
inline constexpr double kRadiation = 5.670374419e-8;

/// A clear sky by the air's temperature alone (Swinbank 1963, Q. J. R. Meteorol. Soc. 89:339-348).
Temperature clear_sky_swinbank(Temperature air);

/// A clear sky by the dew point, the hour after midnight of solar time and the pressure (Berdahl
/// and Martin 1984, Solar Energy 32:663-664).
Temperature clear_sky_berdahl_martin(Temperature air, Temperature dew_point, double solar_hour,
                                     double pressure_Pa = 101'325.0);

/// Radiation of the whole sky [W/m2], with clouds over a share from 0 to 1 of it (Clark and Allen
/// 1978; its cloud factor counts tenths).
double sky_radiation_clark_allen(Temperature air, Temperature dew_point, double cloud_cover);

/// The black body that radiates as much [W/m2].
Temperature sky_temperature(double radiation_W_m2);

}  // namespace beetwright::weather
