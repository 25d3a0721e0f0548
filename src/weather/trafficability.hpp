// Whether the ground bears a wheel today, at the depth that is ploughed and below it.
//
// What the wheel does follows from its tyre and load and is worked out once; what the ground bears
// follows from how moist it is. docs/methods/topsoil.md.
#pragma once

#include <array>
#include <span>
#include <string_view>
#include <vector>

#include "weather/consistency.hpp"
#include "weather/wheel_load.hpp"

namespace beetwright::weather {

inline constexpr double kPloughed_m = 0.20;  ///< damage here is mended by next year's plough
inline constexpr double kBelow_m = 0.50;     ///< and here it stays
inline constexpr std::size_t kBearings = 3;

/// Stress under a tyre at the two depths, by how much the soil yields.
class WheelStress {
 public:
    explicit WheelStress(const Tyre& tyre);
    /// [kPa]; a concentration outside 3 to 7 counts as the nearer of them.
    [[nodiscard]] double at_ploughed(double concentration) const;
    [[nodiscard]] double at_below(double concentration) const;

 private:
    static constexpr double kLeast = 3.0;
    static constexpr double kStep = 0.5;
    std::array<double, 9> ploughed_{};
    std::array<double, 9> below_{};
};

/// "fine", "careful", "wait".
std::string_view words_of(Bearing bearing);

struct DepthBearing {
    double stress_kPa = 0.0;
    double strength_kPa = 0.0;
    Bearing bearing = Bearing::fine;         ///< by the constants' best values
    std::array<double, kBearings> chance{};  ///< of each bearing, over draws of the constants
};

struct Trafficability {
    DepthBearing ploughed;
    DepthBearing below;
    Bearing bearing = Bearing::fine;         ///< the worse of both
    std::array<double, kBearings> chance{};  ///< of each being the worse
};

/// The constants of one draw.
struct GroundConstants {
    SoilConstants soil;
    double concentration = 5.0;
    double strength = 1.0;
};

template <class Get>
GroundConstants ground_constants(Get&& get) {
    return {.soil = soil_constants(get),
            .concentration = get(ConstantId::wheel_concentration),
            .strength = get(ConstantId::wheel_strength)};
}

/// The best values of the constants, and draws of them.
struct GroundDraws {
    GroundConstants best;
    std::vector<GroundConstants> draws;
};
GroundDraws ground_draws(const Catalogue& catalogue, std::uint64_t seed = 1,
                         std::size_t draws = 200);

/// Of a soil whose topsoil and what lies under it are so moist [m3/m3].
Trafficability trafficability(const WheelStress& wheel, const Soil& soil, double moisture,
                              double moisture_below, const GroundDraws& draws);

/// What no figure here knows, to be said wherever one is shown.
std::span<const std::string_view> wheel_cautions();

}  // namespace beetwright::weather
