#include "io/sky_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "io/json.hpp"

namespace beetwright::io {
namespace {

constexpr double kZeroCelsius_K = 273.15;
constexpr std::array<const char*, weather::kHolds> kReasons{"frost", "wet", "heat", "dark"};

/// "Thu 2031-12-04"
std::string day_text(Day day) {
    constexpr std::array<const char*, 7> kNames{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
    return std::string(kNames[std::chrono::weekday(day).c_encoding()]) + " " + to_text(day);
}

std::string clock_text(Instant at, std::chrono::minutes clock) {
    return to_text(at + clock).substr(11, 5);
}

std::string stretch_text(const weather::OpenDay& day, std::chrono::minutes clock) {
    if (day.stretch_begin == day.stretch_end) {
        return "-";
    }
    const auto end = clock_text(day.stretch_end, clock);
    return clock_text(day.stretch_begin, clock) + "-" + (end == "00:00" ? "24:00" : end);
}

double degrees(double kelvin, UnitSystem units) {
    const auto at = Temperature::kelvin(kelvin);
    return units == UnitSystem::us ? at.in_fahrenheit() : at.in_celsius();
}

std::string rain_text(double mm, UnitSystem units) {
    constexpr double kInch_mm = 25.4;
    if (std::isnan(mm)) {
        return "-";
    }
    return units == UnitSystem::us ? fmt::format("{:.2f}", mm / kInch_mm)
                                   : fmt::format("{:.0f}", mm);
}

/// The reasons that hold an hour of the day or more, the weightiest first.
std::string reasons_text(const weather::OpenDay& day) {
    std::array<std::size_t, weather::kHolds> order{0, 1, 2, 3};
    std::ranges::stable_sort(order, [&](auto a, auto b) { return day.held_h[a] > day.held_h[b]; });
    std::string text;
    for (const auto reason : order) {
        if (day.held_h[reason] >= 1.0) {
            text += fmt::format("{}{} {:.0f} h", text.empty() ? "" : ", ", kReasons[reason],
                                day.held_h[reason]);
        }
    }
    return text;
}

Json interval(const Estimate<double>& estimate, double offset = 0.0) {
    if (std::isnan(estimate.value)) {
        return nullptr;
    }
    return {{"value", estimate.value - offset},
            {"low", estimate.low - offset},
            {"high", estimate.high - offset}};
}

Json ground_object(const engine::GroundAhead& ground) {
    const auto percent = [](double share) { return 100.0 * share; };
    Json consistency;
    for (std::size_t c = 0; c < weather::kConsistencies; ++c) {
        consistency[std::string(weather::words_of(static_cast<weather::Consistency>(c)))] =
            ground.consistency_chance[c];
    }
    return {{"moisture_percent",
             {{"value", percent(ground.moisture.value)},
              {"low", percent(ground.moisture.low)},
              {"high", percent(ground.moisture.high)}}},
            {"consistency_chance", std::move(consistency)},
            {"bearing_chance", ground.bearing_chance}};
}

/// "crumbly, wait 63 %"
std::string ground_text(const engine::GroundAhead& ground) {
    const auto likeliest =
        std::ranges::max_element(ground.consistency_chance) - ground.consistency_chance.begin();
    return fmt::format("{}; below the plough wheels should wait: {:.0f} %",
                       weather::words_of(static_cast<weather::Consistency>(likeliest)),
                       100.0 * ground.bearing_chance.back());
}

}  // namespace

std::string sky_text(const engine::SkyAnswer& answer, UnitSystem units) {
    std::string text = (answer.field.empty() ? "A usual soil, for a pile" : answer.field) +
                       ", from " +
                       to_text(answer.at + answer.clock).substr(0, 16).replace(10, 1, " ") + "\n";
    text += fmt::format("{:<15}{:>8}{:>11}{:>9}  {:<12}{:>7}{:>14}  {}\n", "day", "open h", "90 %",
                        fmt::format("{:.0f} h+", answer.useful_day_h), "longest",
                        units == UnitSystem::us ? "rain in" : "rain mm",
                        units == UnitSystem::us ? "°F" : "°C", "held by");
    for (std::size_t d = 0; d < answer.days.size(); ++d) {
        const auto& day = answer.days[d];
        const auto& open = answer.open[d];
        text += fmt::format("{:<15}{:>5.0f}/{:<2}{:>11}{:>9}  {:<12}{:>7}{:>13}  {}\n",
                            day_text(day.day), open.open_h.value, day.hours,
                            fmt::format("{:.0f} to {:.0f}", open.open_h.low, open.open_h.high),
                            fmt::format("{:.0f} %", 100.0 * open.useful_chance),
                            stretch_text(open, answer.clock), rain_text(day.rain_mm.value, units),
                            fmt::format("{:.0f} to {:.0f}", degrees(day.least_K.value, units),
                                        degrees(day.most_K.value, units)),
                            reasons_text(open));
        if (d < answer.ground.size()) {
            text += fmt::format("{:<15}{}\n", "", ground_text(answer.ground[d]));
        }
    }
    for (const auto& sentence : answer.assumptions) {
        text += "Assumed: " + sentence + ".\n";
    }
    return text;
}

std::string sky_json(const engine::SkyAnswer& answer) {
    Json object = {{"field", answer.field},
                   {"at", to_text(answer.at)},
                   {"clock_minutes", answer.clock.count()},
                   {"known_until", to_text(answer.known_until)},
                   {"forecast_until", to_text(answer.forecast_until)},
                   {"useful_day_h", answer.useful_day_h}};
    auto& days = object["days"] = Json::array();
    for (std::size_t d = 0; d < answer.days.size(); ++d) {
        const auto& day = answer.days[d];
        const auto& open = answer.open[d];
        Json held;
        for (std::size_t h = 0; h < weather::kHolds; ++h) {
            held[kReasons[h]] = open.held_h[h];
        }
        const bool has_stretch = open.stretch_begin != open.stretch_end;
        days.push_back(
            {{"day", to_text(day.day)},
             {"hours", day.hours},
             {"open_h", interval(open.open_h)},
             {"useful_chance", open.useful_chance},
             {"held_h", std::move(held)},
             {"stretch_begin", has_stretch ? Json(to_text(open.stretch_begin)) : Json(nullptr)},
             {"stretch_end", has_stretch ? Json(to_text(open.stretch_end)) : Json(nullptr)},
             {"rain_mm", interval(day.rain_mm)},
             {"least_c", interval(day.least_K, kZeroCelsius_K)},
             {"most_c", interval(day.most_K, kZeroCelsius_K)},
             {"intake_most_c", interval(day.intake_most_K, kZeroCelsius_K)},
             {"ground",
              d < answer.ground.size() ? ground_object(answer.ground[d]) : Json(nullptr)}});
    }
    object["assumptions"] = answer.assumptions;
    return object.lines() + "\n";
}

}  // namespace beetwright::io
