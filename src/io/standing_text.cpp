#include "io/standing_text.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "io/estimate_json.hpp"
#include "io/json.hpp"
#include "io/people_units.hpp"

namespace beetwright::io {
namespace {

/// A content or a share, in per cent.
template <class Q>
Reading percent(const Estimate<Q>& estimate, Q one_percent) {
    return {.value = estimate.value / one_percent,
            .low = estimate.low / one_percent,
            .high = estimate.high / one_percent,
            .unit = "%"};
}

std::string line(const std::string& what, const Reading& reading) {
    const auto interval = interval_text(reading);
    return fmt::format("  {:<28}{} {}{}\n", what, value_text(reading), reading.unit,
                       interval.empty() ? "" : "  (" + interval + ")");
}

std::string chance(double share) {
    return fmt::format("{:.0f} %", 100.0 * share);
}

std::string crop_text(const std::string& when, const engine::CropOnDay& crop,
                      const PeopleUnits& people) {
    return fmt::format("{}, {}\n", when, to_text(crop.day)) +
           line("roots, as dug by hand", people.read(crop.root)) +
           line("pol", percent(crop.pol, unit::percent_sugar)) +
           line("lost to molasses", percent(crop.molasses, unit::percent_sugar));
}

/// "fine 82 %, careful 18 %"
std::string chances_text(const std::array<double, weather::kBearings>& chance) {
    std::string text;
    for (std::size_t b = 0; b < weather::kBearings; ++b) {
        if (chance[b] >= 0.005) {
            text +=
                fmt::format("{}{} {:.0f} %", text.empty() ? "" : ", ",
                            weather::words_of(static_cast<weather::Bearing>(b)), 100.0 * chance[b]);
        }
    }
    return text;
}

std::string wheel_text(const engine::GroundState& ground, const PeopleUnits& people) {
    constexpr double kBar_kPa = 100.0;
    constexpr double kPsi_kPa = 6.894757;
    const double load_kg = ground.tyre.load_N / weather::kGravity_m_s2;
    const bool is_us = people.system() == UnitSystem::us;
    return fmt::format("{} ({:.1f} {} at {:.{}f} {})",
                       ground.machine.empty() ? "a usual heaviest wheel"
                                              : "the heaviest wheel of " + ground.machine,
                       is_us ? load_kg / kg_per_short_ton : load_kg / kg_per_tonne,
                       is_us ? "short ton" : "t",
                       ground.tyre.pressure_kPa / (is_us ? kPsi_kPa : kBar_kPa), is_us ? 0 : 1,
                       is_us ? "psi" : "bar");
}

std::string ground_text(const engine::GroundState& ground, const PeopleUnits& people) {
    const auto& bearing = ground.bearing;
    std::string text = fmt::format(
        "ground on {}, {}: topsoil {:.0f} % water by volume, {}\n  under {}: {} at {} ({}), {} at "
        "{} "
        "({})\n",
        to_text(ground.day), weather::soil_of(ground.soil_class).name, 100.0 * ground.moisture,
        weather::words_of(ground.consistency), wheel_text(ground, people),
        weather::words_of(bearing.ploughed.bearing), people.length(Length(weather::kPloughed_m)),
        chances_text(bearing.ploughed.chance), weather::words_of(bearing.below.bearing),
        people.length(Length(weather::kBelow_m)), chances_text(bearing.below.chance));
    for (const auto caution : weather::wheel_cautions()) {
        text += "  " + std::string(caution) + "\n";
    }
    return text;
}

std::string looks_text(const engine::StandingAnswer& answer, const PeopleUnits& people) {
    std::string text;
    if (answer.leaf) {
        text += fmt::format("leaf on {}: {}{}\n", to_text(answer.leaf->day),
                            std::isnan(answer.leaf->sick) ? "disease not judged"
                                                          : chance(answer.leaf->sick) + " diseased",
                            answer.leaf->is_frozen ? ", frozen" : "");
    }
    if (answer.crowns) {
        const auto& heights = answer.crowns->heights;
        text += fmt::format(
            "crowns on {}: {} beets, {} above ground on the mean, {} apart "
            "(standard deviation): {}\n",
            to_text(answer.crowns->day), heights.beets, people.length(heights.mean.value),
            people.length(heights.sd.value), crop::words(heights.likeliest));
    }
    return text;
}

Json crop_object(const engine::CropOnDay& crop) {
    return {{"day", to_text(crop.day)},
            {"roots_t_per_ha", interval_json(crop.root, unit::t_clean_per_ha)},
            {"pol_percent", interval_json(crop.pol, unit::percent_sugar)},
            {"molasses_percent", interval_json(crop.molasses, unit::percent_sugar)}};
}

Json known(double value) {
    return std::isnan(value) ? Json(nullptr) : Json(value);
}

Json depth_object(const weather::DepthBearing& depth, double depth_m) {
    return {{"depth_cm", 100.0 * depth_m},
            {"stress_kpa", depth.stress_kPa},
            {"strength_kpa", depth.strength_kPa},
            {"bearing", weather::words_of(depth.bearing)},
            {"chance", depth.chance}};
}

Json ground_object(const engine::GroundState& ground) {
    Json object = {{"day", to_text(ground.day)},
                   {"soil_class", weather::soil_of(ground.soil_class).name},
                   {"moisture_percent", 100.0 * ground.moisture},
                   {"consistency", weather::words_of(ground.consistency)},
                   {"consistency_chance", ground.consistency_chance},
                   {"machine", ground.machine},
                   {"wheel_load_t", ground.tyre.load_N / weather::kGravity_m_s2 / kg_per_tonne},
                   {"tyre_pressure_kpa", ground.tyre.pressure_kPa},
                   {"bearing", weather::words_of(ground.bearing.bearing)},
                   {"bearing_chance", ground.bearing.chance},
                   {"ploughed", depth_object(ground.bearing.ploughed, weather::kPloughed_m)},
                   {"below", depth_object(ground.bearing.below, weather::kBelow_m)}};
    object["cautions"] = weather::wheel_cautions();
    return object;
}

}  // namespace

std::string standing_text(const engine::StandingAnswer& answer, const std::string& currency,
                          UnitSystem units) {
    const PeopleUnits people(units, currency);
    const auto& wait = answer.wait;
    std::string text = answer.field + (answer.soil.empty() ? "" : ", " + answer.soil) + "\n";
    text += "What stands there rests on: " + answer.evidence + ".\n\n";
    text += crop_text("Now", answer.now, people);
    text += line("recoverable, delivered", people.read(wait.now)) + "\n";
    text += crop_text("After the wait", answer.later, people) + "\n";
    if (answer.ground) {
        text += ground_text(*answer.ground, people);
    }
    text += looks_text(answer, people);
    const auto days = (answer.later.day - answer.now.day).count();
    text += fmt::format("Waiting {} {}\n", days, days == 1 ? "day" : "days");
    text += line("if all goes well", people.read(wait.change_if_all_goes_well));
    text += line("with what may go wrong", people.read(wait.change));
    if (wait.money.value.is_known()) {
        text += line("in money", people.read(wait.money));
    }
    text += fmt::format("  chance that it loses sugar  {}\n", chance(wait.chance_of_loss));
    if (!std::isnan(wait.chance_of_less_money)) {
        text +=
            fmt::format("  chance that it pays less    {}\n", chance(wait.chance_of_less_money));
    }
    if (answer.mishaps_known) {
        text += fmt::format(
            "  set against it: {} that leaf freezes, {} that roots do, {} that the field is too "
            "wet "
            "in the week after\n",
            chance(answer.mishaps.leaf_frost), chance(answer.mishaps.frozen_roots),
            chance(answer.mishaps.too_wet));
    }
    for (const auto& sentence : answer.assumptions) {
        text += "Assumed: " + sentence + ".\n";
    }
    return text;
}

std::string standing_json(const engine::StandingAnswer& answer, const std::string& currency) {
    const auto& wait = answer.wait;
    Json object = {{"field", answer.field},
                   {"currency", currency},
                   {"soil", answer.soil},
                   {"at", to_text(answer.at)},
                   {"rests_on", footing_key(answer.rests_on)},
                   {"evidence", answer.evidence},
                   {"now", crop_object(answer.now)},
                   {"later", crop_object(answer.later)},
                   {"ground", answer.ground ? ground_object(*answer.ground) : Json(nullptr)},
                   {"leaf", nullptr},
                   {"crowns", nullptr}};
    if (answer.leaf) {
        object["leaf"] = {{"day", to_text(answer.leaf->day)},
                          {"sick_percent", known(100.0 * answer.leaf->sick)},
                          {"frozen", answer.leaf->is_frozen}};
    }
    if (answer.crowns) {
        const auto& heights = answer.crowns->heights;
        object["crowns"] = {{"day", to_text(answer.crowns->day)},
                            {"beets", heights.beets},
                            {"mean_cm", interval_json(heights.mean, unit::cm)},
                            {"sd_cm", interval_json(heights.sd, unit::cm)},
                            {"even", heights.even},
                            {"fair", heights.fair},
                            {"uneven", heights.uneven},
                            {"words", crop::words(heights.likeliest)}};
    }
    object["wait"] = {{"days", (answer.later.day - answer.now.day).count()},
                      {"sugar_now_kg_per_ha", interval_json(wait.now, unit::kg_sugar_per_ha)},
                      {"if_all_goes_well_sugar_kg_per_ha",
                       interval_json(wait.change_if_all_goes_well, unit::kg_sugar_per_ha)},
                      {"sugar_kg_per_ha", interval_json(wait.change, unit::kg_sugar_per_ha)},
                      {"money_per_ha", interval_json(wait.money, unit::money_per_ha)},
                      {"chance_of_loss", wait.chance_of_loss},
                      {"chance_of_less_money", known(wait.chance_of_less_money)},
                      {"mishaps_cost_sugar_kg_per_ha", wait.mishaps_cost / unit::kg_sugar_per_ha}};
    object["mishaps"] = answer.mishaps_known ? Json{{"leaf_freezes", answer.mishaps.leaf_frost},
                                                    {"roots_freeze", answer.mishaps.frozen_roots},
                                                    {"too_wet_after", answer.mishaps.too_wet}}
                                             : Json(nullptr);
    object["assumptions"] = answer.assumptions;
    return object.lines() + "\n";
}

}  // namespace beetwright::io
