// What soil is like in the hand, and how hard it holds its water, by how much of that it has.
// docs/methods/topsoil.md.
#pragma once

#include <cstdint>
#include <string_view>

#include "base/catalogue.hpp"
#include "weather/soil.hpp"

namespace beetwright::weather {

/// The constants of one draw, in the units of the names; water per dry soil [kg/kg].
struct SoilConstants {
    double capacity_suction_kPa = 0.0;
    double plastic_limit = 0.0;       ///< without clay
    double plastic_limit_clay = 0.0;  ///< more per clay
    double plastic_from = 0.0;        ///< clay [kg/kg]
    double activity = 0.0;
    double hard_share = 0.0;
    double sticky_share = 0.0;
    double drain_lag_h = 0.0;  ///< of a loam
};

template <class Get>
SoilConstants soil_constants(Get&& get) {
    using enum ConstantId;
    return {.capacity_suction_kPa = get(soil_capacity_suction) / 1000.0,
            .plastic_limit = get(soil_plastic_limit),
            .plastic_limit_clay = get(soil_plastic_limit_clay),
            .plastic_from = get(soil_plastic_from),
            .activity = get(soil_activity),
            .hard_share = get(soil_hard_share),
            .sticky_share = get(soil_sticky_share),
            .drain_lag_h = get(lifting_drain_lag) / 3600.0};
}

enum class Consistency : std::uint8_t {
    hard,     ///< breaks into clods, and holds tails fast
    crumbly,  ///< falls off roots
    plastic,  ///< can be kneaded: it smears, and ruts stay
    sticky,   ///< clings to roots and steel
};
inline constexpr std::size_t kConsistencies = 4;
std::string_view words_of(Consistency consistency);

/// Moistures [m3 water/m3 soil] from which a soil is the next.
struct ConsistencyLimits {
    double crumbly = 0.0;
    double plastic = 0.0;  ///< more than there is room for, where it has too little clay to knead
    double sticky = 0.0;
};

ConsistencyLimits consistency_limits(const Soil& soil, const SoilConstants& constants);
Consistency consistency(double moisture, const ConsistencyLimits& limits);

/// How hard the soil holds its water [kPa] at a moisture: a power of it (Campbell 1974, Soil Sci.
/// 117:311-314) through field capacity and wilting point, at 1,500 kPa.
double suction_kPa(const Soil& soil, double moisture, const SoilConstants& constants);
/// The power, b.
double retention_power(const Soil& soil, const SoilConstants& constants);

}  // namespace beetwright::weather
