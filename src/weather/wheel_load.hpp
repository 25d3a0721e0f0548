// What a wheel does to the soil under it, and whether the soil bears it.
//
// Stress below a loaded circle after Froehlich; below a tyre after Keller (2005, Biosyst. Eng.
// 92:85-96) as R's soilphysics has it; strength after Severiano et al. (2013, Soil Res.
// 51:193-202), found for Brazilian Latosols and so wide elsewhere. docs/methods/wheel_load.md.
#pragma once

namespace beetwright::weather {

/// Vertical stress under the middle of a circle that presses evenly [same unit as `pressure`].
/// `concentration`: 3 elastic, more the more the soil yields.
double stress_under_circle(double pressure, double radius_m, double depth_m, double concentration);
/// Under a point load [N] to the side of it [Pa].
double stress_under_point(double load_N, double depth_m, double aside_m, double concentration);

/// Standard gravity, as defined in 1901: a load in newtons from a mass on a wheel.
inline constexpr double kGravity_m_s2 = 9.80665;

struct Tyre {
    double pressure_kPa = 200.0;
    double recommended_pressure_kPa = 200.0;  ///< by its maker, for the load
    double diameter_m = 1.8;
    double width_m = 0.8;
    double load_N = 40'000.0;
};

/// How a tyre presses on firm soil.
struct Footprint {
    double most_stress_kPa = 0.0;
    double length_m = 0.0;
    double exponent = 2.0;  ///< of its outline, a superellipse
    double decay = 0.0;     ///< of stress across the width
    double along = 0.0;  ///< power of the fall of stress along it, found so that it bears the load
    double area_m2 = 0.0;
    double modelled_load_N = 0.0;  ///< before it is scaled to the load
};

Footprint footprint(const Tyre& tyre);

/// Vertical stress under the middle of a tyre at a depth [kPa]; the footprint is scaled so that it
/// bears the tyre's load exactly.
double stress_under_tyre_kPa(const Tyre& tyre, double depth_m, double concentration);

/// The same for the footprint of the tyre, which takes most of the time to find.
double stress_under_tyre_kPa(const Tyre& tyre, const Footprint& print, double depth_m,
                             double concentration);

/// Stress that the soil has borne before and bears without yielding [kPa], by its clay [kg/kg] and
/// suction [kPa].
double precompression_kPa(double clay, double suction_kPa);

enum class Bearing { fine, careful, wait };

/// By the stress over the strength (Stettler et al. 2014, Landtechnik 69:132-137): under a half it
/// is fine, over 1.1 one waits.
Bearing bearing(double stress_kPa, double strength_kPa);

}  // namespace beetwright::weather
