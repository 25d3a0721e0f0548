// Soils by class, and what they hold.
#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace beetwright::weather {

enum class SoilClass {
    sand,
    loamy_sand,
    sandy_loam,
    loam,
    silt_loam,
    silt,
    silty_clay_loam,
    silty_clay,
    clay
};

/// Shares of volume, and depths of water in mm. What soils hold: middles of the ranges of FAO
/// Irrigation and Drainage Paper 56, table 19 [M]; saturated: Clapp and Hornberger (1978, Water
/// Resour. Res. 14:601-604, table 2 [M]), who have no silt, which is given silt loam's.
struct Soil {
    SoilClass soil_class;
    std::string_view name;      ///< "silt loam"
    double field_capacity;      ///< [m3 water/m3]
    double wilting_point;       ///< [m3 water/m3]
    double readily_evaporable;  ///< [mm], before the surface dries
    double clay;                ///< [kg/kg], a usual share of the class; assumed
    double saturated;           ///< [m3 water/m3], all pores full
    /// Time in which it drains, over a loam's; assumed, within what lifting.drain_lag spans: sand
    /// within a day, clay in several.
    double draining;

    /// Of dry soil [kg/m3], with grains of 2,650 kg/m3.
    [[nodiscard]] double bulk_density() const { return 2650.0 * (1.0 - saturated); }
};

std::span<const Soil> soils();
const Soil& soil_of(SoilClass soil_class);
/// By the name, or by the words in which growers say it: "heavy clay", "sandy loam, stony".
std::optional<SoilClass> soil_class_named(std::string_view words);

/// Water that roots can take from a depth of soil [mm] (paper 56, equation 82).
double total_available_mm(double field_capacity, double wilting_point, double root_depth_m);

}  // namespace beetwright::weather
