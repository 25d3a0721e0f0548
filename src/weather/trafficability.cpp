#include "weather/trafficability.hpp"

#include <algorithm>
#include <cmath>

#include "base/contract.hpp"
#include "weather/constant_draw.hpp"

namespace beetwright::weather {
namespace {

constexpr std::array<std::string_view, 5> kCautions{
    "what the makers of the machine and of its tyres say about load, pressure and speed counts "
    "before this",
    "a slope asks for more: machines slide and tip on ground that bears them on the level",
    "stay clear of the edges of ditches, banks and drains, which give way at loads that the field "
    "bears",
    "headlands and tracks are driven over many times, and are weaker than this says",
    "ground differs within a field: look at the rut that the first metres leave, and turn back "
    "where it is deep",
};

double strength_kPa(const Soil& soil, double moisture, const GroundConstants& constants) {
    return constants.strength *
           precompression_kPa(soil.clay, suction_kPa(soil, moisture, constants.soil));
}

/// Between the two nearest of evenly spaced values.
double between(std::span<const double> values, double place) {
    const double held = std::clamp(place, 0.0, static_cast<double>(values.size() - 1));
    const auto below = std::min(static_cast<std::size_t>(held), values.size() - 2);
    return std::lerp(values[below], values[below + 1], held - static_cast<double>(below));
}

}  // namespace

std::string_view words_of(Bearing bearing) {
    switch (bearing) {
        case Bearing::fine: return "fine";
        case Bearing::careful: return "careful";
        case Bearing::wait: return "wait";
    }
    return "";
}

WheelStress::WheelStress(const Tyre& tyre) {
    const auto print = footprint(tyre);
    for (std::size_t k = 0; k < ploughed_.size(); ++k) {
        const double concentration = kLeast + kStep * static_cast<double>(k);
        ploughed_[k] = stress_under_tyre_kPa(tyre, print, kPloughed_m, concentration);
        below_[k] = stress_under_tyre_kPa(tyre, print, kBelow_m, concentration);
    }
}

double WheelStress::at_ploughed(double concentration) const {
    return between(ploughed_, (concentration - kLeast) / kStep);
}

double WheelStress::at_below(double concentration) const {
    return between(below_, (concentration - kLeast) / kStep);
}

GroundDraws ground_draws(const Catalogue& catalogue, std::uint64_t seed, std::size_t draws) {
    GroundDraws all{.best = ground_constants([&](ConstantId id) { return catalogue.value(id); }),
                    .draws = {}};
    for (std::size_t draw = 0; draw < draws; ++draw) {
        all.draws.push_back(
            ground_constants(ConstantDraw(catalogue, seed, "ground under a wheel", draw)));
    }
    return all;
}

Trafficability trafficability(const WheelStress& wheel, const Soil& soil, double moisture,
                              double moisture_below, const GroundDraws& draws) {
    require(!draws.draws.empty(), "there are draws");
    const auto judge = [&](const GroundConstants& constants, Trafficability& into) {
        into.ploughed.stress_kPa = wheel.at_ploughed(constants.concentration);
        into.ploughed.strength_kPa = strength_kPa(soil, moisture, constants);
        into.below.stress_kPa = wheel.at_below(constants.concentration);
        into.below.strength_kPa = strength_kPa(soil, moisture_below, constants);
        for (DepthBearing* depth : {&into.ploughed, &into.below}) {
            depth->bearing = bearing(depth->stress_kPa, depth->strength_kPa);
        }
        into.bearing = std::max(into.ploughed.bearing, into.below.bearing);
    };
    Trafficability answer;
    judge(draws.best, answer);
    const double share = 1.0 / static_cast<double>(draws.draws.size());
    for (const GroundConstants& constants : draws.draws) {
        Trafficability drawn;
        judge(constants, drawn);
        answer.ploughed.chance[static_cast<std::size_t>(drawn.ploughed.bearing)] += share;
        answer.below.chance[static_cast<std::size_t>(drawn.below.bearing)] += share;
        answer.chance[static_cast<std::size_t>(drawn.bearing)] += share;
    }
    return answer;
}

std::span<const std::string_view> wheel_cautions() {
    return kCautions;
}

}  // namespace beetwright::weather
