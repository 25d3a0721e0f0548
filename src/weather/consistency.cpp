#include "weather/consistency.hpp"

#include <algorithm>
#include <cmath>

namespace beetwright::weather {
namespace {

constexpr double kWiltingSuction_kPa = 1500.0;
constexpr double kWater_kg_m3 = 1000.0;

}  // namespace

std::string_view words_of(Consistency consistency) {
    switch (consistency) {
        case Consistency::hard: return "hard";
        case Consistency::crumbly: return "crumbly";
        case Consistency::plastic: return "plastic";
        case Consistency::sticky: return "sticky";
    }
    return "";
}

ConsistencyLimits consistency_limits(const Soil& soil, const SoilConstants& constants) {
    if (soil.clay < constants.plastic_from) {
        // Sand falls apart, dry or wet.
        constexpr double kNever = 1.0;
        return {.crumbly = 0.0, .plastic = kNever, .sticky = kNever};
    }
    const double to_volume = soil.bulk_density() / kWater_kg_m3;
    const double plastic =
        to_volume * (constants.plastic_limit + constants.plastic_limit_clay * soil.clay);
    const double range = to_volume * constants.activity * soil.clay;
    // The plastic range of clay is wider than its pores: kneaded soil has none. It sticks at the
    // latest when half of those are full that were empty at the plastic limit.
    const double half_full = 0.5 * std::max(0.0, soil.saturated - plastic);
    return {.crumbly = constants.hard_share * plastic,
            .plastic = plastic,
            .sticky = plastic + std::min(constants.sticky_share * range, half_full)};
}

Consistency consistency(double moisture, const ConsistencyLimits& limits) {
    if (moisture < limits.crumbly) {
        return Consistency::hard;
    }
    if (moisture < limits.plastic) {
        return Consistency::crumbly;
    }
    return moisture < limits.sticky ? Consistency::plastic : Consistency::sticky;
}

double retention_power(const Soil& soil, const SoilConstants& constants) {
    return std::log(kWiltingSuction_kPa / constants.capacity_suction_kPa) /
           std::log(soil.field_capacity / soil.wilting_point);
}

double suction_kPa(const Soil& soil, double moisture, const SoilConstants& constants) {
    // Drier than half of the wilting point no field gets below its surface.
    const double held = std::clamp(moisture, 0.5 * soil.wilting_point, soil.saturated);
    return constants.capacity_suction_kPa *
           std::pow(held / soil.field_capacity, -retention_power(soil, constants));
}

}  // namespace beetwright::weather
