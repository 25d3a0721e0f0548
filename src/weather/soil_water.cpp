#include "weather/soil_water.hpp"

#include <algorithm>
#include <cmath>

#include "weather/soil.hpp"

namespace beetwright::weather {
namespace {

/// From the first to the last value over the stage of development.
double through_development(const CropCourse& crop, double day, double first, double last) {
    const double share = std::clamp((day - crop.stage_days[0]) / crop.stage_days[1], 0.0, 1.0);
    return first + share * (last - first);
}

double basal_factor(const CropCourse& crop, double day) {
    const auto& [first, middle, end] = crop.basal_factors;
    const double late_from = crop.stage_days[0] + crop.stage_days[1] + crop.stage_days[2];
    if (day <= late_from) {
        return through_development(crop, day, first, middle);
    }
    const double share = std::clamp((day - late_from) / crop.stage_days[3], 0.0, 1.0);
    return middle + share * (end - middle);
}

/// What wind and dry air add to the most that crop and wet soil can evaporate (equation 72). The
/// paper also corrects the basal factors by them (equation 70), for a whole stage at once: what an
/// autumn in beet country would add is 0.01, and is left out.
double climate_part(const WaterDay& weather, double height_m) {
    const double wind = std::clamp(weather.wind_2m_m_s, 1.0, 6.0);
    const double humidity_percent = std::clamp(100.0 * weather.least_humidity, 20.0, 80.0);
    return (0.04 * (wind - 2.0) - 0.004 * (humidity_percent - 45.0)) *
           std::pow(height_m / 3.0, 0.3);
}

}  // namespace

CropCourse sugar_beet_course() {
    return {.stage_days = {50.0, 40.0, 50.0, 40.0},
            .basal_factors = {0.15, 1.15, 0.50},
            .first_height_m = 0.05,
            .most_height_m = 0.5,
            .first_root_m = 0.2,
            .most_root_m = 1.0,
            .easy_share = 0.55};
}

WaterStep water_step(const CropCourse& crop, const SoilBuckets& soil, int day,
                     const WaterDay& weather, const WaterState& before) {
    WaterStep step;
    const double age = static_cast<double>(day);
    const double basal = basal_factor(crop, age);
    const double tallest_so_far =
        through_development(crop, age, crop.first_height_m, crop.most_height_m);
    const double height = std::max(tallest_so_far, 0.001);
    step.basal_factor = basal;
    const double most_factor =
        std::max(1.2 + climate_part(weather, height), basal + 0.05);  // equation 72
    const double least_factor = crop.basal_factors[0];

    // The part of the surface that is both wetted and not under leaves (equations 75, 76).
    step.cover = std::clamp(
        basal > least_factor
            ? std::pow((basal - least_factor) / (most_factor - least_factor), 1.0 + 0.5 * height)
            : 0.0,
        0.0, 0.99);
    WaterState& after = step.after;
    after.wetted_share = before.wetted_share;
    if (weather.irrigation > 0.0) {
        after.wetted_share = weather.wetted_share;
    } else if (weather.rain > 0.0) {
        after.wetted_share = 1.0;
    }
    const double evaporating =
        std::clamp(std::min(1.0 - step.cover, after.wetted_share), 0.01, 1.0);

    // The surface dries freely first, then the slower the drier it is (equations 71, 74).
    const double evaporable = soil.total_evaporable_mm();
    step.surface_factor = std::clamp(
        (evaporable - before.top_depletion) / (evaporable - soil.readily_evaporable_mm), 0.0, 1.0);
    step.evaporation_factor =
        std::min(step.surface_factor * (most_factor - basal), evaporating * most_factor);
    step.evaporation = step.evaporation_factor * weather.reference;

    // The top layer's balance (equations 77, 79).
    const double wetting = weather.rain + weather.irrigation / after.wetted_share;
    const double through = std::max(0.0, wetting - before.top_depletion);
    after.top_depletion = std::clamp(
        before.top_depletion - wetting + step.evaporation / evaporating + through, 0.0, evaporable);

    // The roots' balance (equations 82 to 88).
    step.root_depth_m = through_development(crop, age, crop.first_root_m, crop.most_root_m);
    step.available = total_available_mm(soil.field_capacity, soil.wilting_point, step.root_depth_m);
    const double unstressed = (step.evaporation_factor + basal) * weather.reference;
    const double easy = std::clamp(crop.easy_share + 0.04 * (5.0 - unstressed), 0.1, 0.8);
    step.stress_factor = std::clamp(
        (step.available - before.root_depletion) / ((1.0 - easy) * step.available), 0.0, 1.0);
    step.transpiration = step.stress_factor * basal * weather.reference;
    step.full_evapotranspiration = unstressed;
    const double used = step.evaporation + step.transpiration;
    const double fallen = weather.rain + weather.irrigation;
    step.drainage = std::max(0.0, fallen - used - before.root_depletion);
    after.root_depletion = before.root_depletion - fallen + used + step.drainage;
    return step;
}

}  // namespace beetwright::weather
