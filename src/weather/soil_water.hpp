// A field's water from day to day: what falls, what the crop and the bare soil evaporate, what
// drains away.
//
// The dual crop coefficient of FAO Irrigation and Drainage Paper 56, chapter 7: one part for the
// crop, one for the wet surface, each from a bucket of its own. docs/methods/soil_water.md.
#pragma once

#include <array>

#include "weather/evapotranspiration.hpp"

namespace beetwright::weather {

/// How a crop grows, in days from sowing.
struct CropCourse {
    std::array<double, 4> stage_days{};     ///< initial, development, middle, late
    std::array<double, 3> basal_factors{};  ///< initial, middle, end
    double first_height_m = 0.05;
    double most_height_m = 0.5;
    double first_root_m = 0.2;
    double most_root_m = 1.0;
    double easy_share = 0.55;  ///< of the available water that is taken without stress
};

/// Sugar beet (paper 56, tables 11, 12, 17 and 22, as pyfao56 keeps them), sown in April.
CropCourse sugar_beet_course();

/// A soil as the balance sees it.
struct SoilBuckets {
    double field_capacity = 0.0;
    double wilting_point = 0.0;
    double top_layer_m = 0.10;  ///< that evaporation dries
    double readily_evaporable_mm = 9.0;
    /// Water that evaporation can take from the top layer (equation 73) [mm].
    [[nodiscard]] double total_evaporable_mm() const {
        return 1000.0 * (field_capacity - 0.5 * wilting_point) * top_layer_m;
    }
};

/// What a day brings.
struct WaterDay {
    Depth_mm reference = 0.0;  ///< evapotranspiration
    double wind_2m_m_s = 2.0;
    double least_humidity = 0.45;  ///< 0 to 1
    Depth_mm rain = 0.0;
    Depth_mm irrigation = 0.0;
    double wetted_share = 1.0;  ///< of the surface that the irrigation wets
};

/// Where a field's water stands. Depletions count from field capacity.
struct WaterState {
    Depth_mm root_depletion = 0.0;
    Depth_mm top_depletion = 0.0;  ///< of the part of the surface that is wetted and in the sun
    double wetted_share = 1.0;     ///< by the last wetting
};

/// What a day did. Sums to nothing: rain + irrigation = evaporation + transpiration + drainage
/// less the fall of the depletion.
struct WaterStep {
    Depth_mm evaporation = 0.0;
    Depth_mm transpiration = 0.0;
    Depth_mm drainage = 0.0;
    Depth_mm full_evapotranspiration = 0.0;  ///< of a crop that lacks no water
    double basal_factor = 0.0;
    double root_depth_m = 0.0;
    double evaporation_factor = 0.0;  ///< Ke
    double surface_factor = 0.0;      ///< Kr: 1 wet, 0 dry
    double stress_factor = 1.0;       ///< Ks
    double cover = 0.0;               ///< share of the ground under leaves
    Depth_mm available = 0.0;         ///< in the rooted soil, when full
    WaterState after;
};

/// One day; `day` counts from 0, the day of sowing. The crop loses its leaves with its roots: after
/// the last stage its last factor holds.
WaterStep water_step(const CropCourse& crop, const SoilBuckets& soil, int day,
                     const WaterDay& weather, const WaterState& before);

}  // namespace beetwright::weather
