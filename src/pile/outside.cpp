#include "pile/outside.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "pile/humid.hpp"

namespace beetwright::pile {
namespace {

constexpr double kStefanBoltzmann = 5.670374419e-8;  ///< [W/m2/K4]
/// Air that finds its way to an open strip between covers [Pa s m2/kg]: less than any bed resists.
constexpr double kStrip_air = 2.0;
/// A slope this steep meets the wind as a wall does; less steep, it is something between wall and
/// level top.
constexpr double kWall = 30.0 * std::numbers::pi / 180.0;
constexpr double kTight = -1.0;
/// Snow of this depth hides what lies below it from the sun [m].
constexpr double kHides_m = 0.02;
constexpr double kFleeceConductivity = 0.04;  ///< with which its resistance was reckoned [W/m/K]

/// Vapour's way through a layer by diffusion [m2 s/kg].
double spread_through(double thickness_m) {
    return thickness_m / (air_density(5.0, 0.005) * kDiffusivity);
}

double wind_pressure(const ShapeSide& side, const WeatherHour& hour, const PileConstants& c) {
    const double speed = c.wind_share * hour.wind;
    const double dynamic = 0.5 * air_density(hour.air_C, hour.humidity) * speed * speed;
    const double towards = 0.5 * (1.0 + std::cos(side.azimuth - hour.wind_from));
    const double flank = c.wind_lee + (c.wind_windward - c.wind_lee) * towards * towards;
    const double steep = std::min(1.0, side.tilt / kWall);
    return dynamic * (c.wind_top + steep * (flank - c.wind_top));
}

/// The resistance that two ways side by side have, each in series with 1 / transfer.
double beside(double resistance, double open_share, double transfer) {
    const double covered = (1.0 - open_share) / (resistance + 1.0 / transfer);
    return 1.0 / (covered + open_share * transfer) - 1.0 / transfer;
}

/// Snow on a side: it keeps warm, throws sunshine back and holds air and vapour up.
void add_snow(double depth_m, const PileConstants& c, SideOutside& on, double& air) {
    on.resistance += depth_m / c.snow_conductivity;
    on.spread = on.spread > 0.0 ? 1.0 / (1.0 / on.spread + spread_through(depth_m)) : 0.0;
    air += c.snow_air * depth_m;
}

}  // namespace

Cover no_cover(const PileConstants& c) {
    return {.absorptance = c.absorptance};
}
Cover fleece(const PileConstants& c) {
    return {.resistance = c.fleece_resistance,
            .air = c.fleece_air,
            .spread = spread_through(c.fleece_resistance * kFleeceConductivity),
            .rain = c.fleece_rain,
            .absorptance = c.sheet_absorptance};
}
Cover straw(const PileConstants& c, Length thickness) {
    return {.resistance = thickness.si() / c.straw_conductivity,
            .air = c.straw_air * thickness.si(),
            .spread = spread_through(thickness.si()),
            .rain = c.straw_rain,
            .absorptance = c.sheet_absorptance};
}
Cover plastic(const PileConstants& c) {
    return {
        .air = c.plastic_air, .spread = kTight, .rain = 0.0, .absorptance = c.sheet_absorptance};
}
Cover straw_under_fleece(const PileConstants& c, Length thickness) {
    const Cover above = fleece(c);
    Cover both = straw(c, thickness);
    both.resistance += above.resistance;
    both.air += above.air;
    both.spread += above.spread;
    both.rain *= above.rain;
    return both;
}
Cover straw_under_plastic(const PileConstants& c, Length thickness) {
    Cover both = plastic(c);
    both.resistance = straw(c, thickness).resistance;
    return both;
}
Cover split(const Cover& cover, double open_share) {
    Cover strips = cover;
    strips.open = std::clamp(open_share, 0.0, 1.0);
    return strips;
}

void set_outside(Outside& outside, const WeatherHour& hour, std::span<const ShapeSide> sides,
                 std::span<const Cover> covers, const PileConstants& c) {
    outside.air_C = hour.air_C;
    outside.humidity = hour.humidity;
    outside.density = air_density(hour.air_C, hour.humidity);
    outside.deep_ground_C = hour.deep_ground_C;
    outside.sides.resize(sides.size());
    outside.wind_Pa.resize(sides.size());
    outside.cover_air.resize(sides.size());
    const double kelvin = hour.air_C + kZeroCelsius;
    const double radiation = 4.0 * c.emissivity * kStefanBoltzmann * kelvin * kelvin * kelvin;
    const double convection = c.face_convection + c.face_convection_wind * c.wind_share * hour.wind;
    const double air_W = kStefanBoltzmann * kelvin * kelvin * kelvin * kelvin;
    for (std::size_t s = 0; s < sides.size(); ++s) {
        const auto& side = sides[s];
        const bool is_ground = side.side == Side::ground;
        const Cover bare = no_cover(c);
        const Cover& cover = covers.empty() || is_ground ? bare : covers[s];
        auto& on = outside.sides[s];
        const double sun = hour.sun_W_m2.empty() ? 0.0 : hour.sun_W_m2[s];
        const double snow_m = hour.snow_m * std::cos(side.tilt);
        const double hidden = std::min(1.0, snow_m / kHides_m);
        const double seen = cover.open * c.absorptance + (1.0 - cover.open) * cover.absorptance;
        const double taken = seen + hidden * (c.snow_absorptance - seen);
        const double sees_sky = 0.5 * (1.0 + std::cos(side.tilt));
        // What else it sees, the ground, is taken to be as warm as the air.
        const double gain = taken * sun + c.emissivity * sees_sky * (hour.sky_W_m2 - air_W);
        on.heat_transfer = convection + radiation;
        on.felt_C = hour.air_C + gain / on.heat_transfer;
        on.resistance = beside(cover.resistance, cover.open, on.heat_transfer);
        const double skin = kAirCapacity / convection;
        const double through = cover.spread < 0.0 ? 0.0 : 1.0 / (skin + cover.spread);
        on.spread = (1.0 - cover.open) * through + cover.open / skin;
        on.rain = hour.rain_mm / 3600.0 * (cover.open + (1.0 - cover.open) * cover.rain);
        outside.wind_Pa[s] = wind_pressure(side, hour, c);
        outside.cover_air[s] =
            cover.open > 0.0 && cover.air > 0.0
                ? 1.0 / ((1.0 - cover.open) / cover.air + cover.open / kStrip_air)
                : cover.air;
        if (snow_m > 0.0) {
            add_snow(snow_m, c, on, outside.cover_air[s]);
        }
    }
}

}  // namespace beetwright::pile
