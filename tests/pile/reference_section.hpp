// The small section that SUNDIALS' CVODE integrated (tools/oracles/pile_cvode.cpp) and that the
// pile's own steps are held against.
#pragma once

#include "pile/plans.hpp"

namespace beetwright::pile {

inline constexpr int kReferenceHours = 72;

/// A heap of 4 x 1.5 m in cells of 0.4 x 0.375 m, wounded, without film at first.
inline Plan reference_section() {
    Plan plan;
    plan.shape = {.width = Length(4.0),
                  .height = Length(1.5),
                  .top_width = Length(1.0),
                  .length = Length(10.0)};
    plan.grid = {.cell_across = Length(0.4), .cell_up = Length(0.375), .ground_layers = 3};
    plan.lots.emplace_back();
    plan.lots.back().beet = ordinary();
    plan.lots.back().celsius = 9.0;
    plan.lots.back().film = 0.0;
    return plan;
}

/// Dry hours: rain is handed down by cells at once, which has no rate.
inline WeatherHour reference_hour(int k, std::size_t sides) {
    auto hour = autumn_hour(static_cast<std::size_t>(k), 4.0, sides);
    hour.rain_mm = 0.0;
    return hour;
}

/// No sprouts: they are a memory of warmth that is checked elsewhere.
inline PileConstants reference_constants() {
    auto constants = central_pile();
    constants.sprout_rate = 0.0;
    return constants;
}

/// What a cell is called beside CVODE: counted from a column before the first, whatever room a box
/// takes there.
inline std::size_t reference_number(const num::Box& box, std::size_t cell) {
    return cell - box.begin() + box.up;
}

/// Each step follows the flow; gases from upstream.
inline RunRules reference_rules(double longest_s) {
    RunRules rules;
    rules.longest_s = longest_s;
    rules.flow = {.most_steps = 60, .change = 1e-8, .tightness = 1e-10};
    rules.step.kelvin = 1e-8;
    rules.step.most = 80;
    return rules;
}

}  // namespace beetwright::pile
