#include "engine/ground_state.hpp"

#include <algorithm>
#include <cmath>

#include "weather/known.hpp"
#include "weather/topsoil.hpp"

namespace beetwright::engine {
NamedTyre tyre_of(const ledger::Season& season, const ledger::Field& field,
                  const Catalogue& catalogue) {
    constexpr double kPascal_kPa = 1e-3;
    const auto machine = std::ranges::find(season.machines, field.machine, &ledger::Machine::name);
    const auto wheel = machine == season.machines.end() ? ledger::Wheel{} : machine->heaviest_wheel;
    const auto known = [](double value, double usual) { return std::isnan(value) ? usual : value; };
    using enum ConstantId;
    NamedTyre named;
    named.tyre.load_N =
        weather::kGravity_m_s2 * known(wheel.load.si(), catalogue.value(wheel_usual_load));
    named.tyre.pressure_kPa =
        kPascal_kPa * known(wheel.pressure.si(), catalogue.value(wheel_usual_pressure));
    named.tyre.recommended_pressure_kPa = named.tyre.pressure_kPa;
    named.tyre.width_m = known(wheel.width.si(), catalogue.value(wheel_usual_width));
    named.tyre.diameter_m = known(wheel.diameter.si(), catalogue.value(wheel_usual_diameter));
    if (wheel.load.is_known()) {
        named.machine = machine->name;
    }
    return named;
}

std::optional<GroundState> ground_state(const ledger::Season& season, const ledger::Field& field,
                                        const Catalogue& catalogue) {
    if (season.weather == nullptr || !season.weather->observed) {
        return std::nullopt;
    }
    const auto& observed = *season.weather->observed;
    GroundState state;
    state.soil_class = ledger::soil_class_of(season, field.soil);
    const auto& soil = weather::soil_of(state.soil_class);
    const auto draws = weather::ground_draws(catalogue, season.seed);
    const auto days = weather::topsoil_days(observed, weather::sky_hours(observed),
                                            {.soil = state.soil_class}, draws.best.soil);
    if (days.empty()) {
        return std::nullopt;
    }
    const auto& last = days.back();
    state.day = last.day;
    state.moisture = last.moisture;
    state.consistency =
        weather::consistency(last.moisture, weather::consistency_limits(soil, draws.best.soil));
    for (const auto& draw : draws.draws) {
        const auto is =
            weather::consistency(last.moisture, weather::consistency_limits(soil, draw.soil));
        state.consistency_chance[static_cast<std::size_t>(is)] +=
            1.0 / static_cast<double>(draws.draws.size());
    }
    auto named = tyre_of(season, field, catalogue);
    state.bearing = weather::trafficability(weather::WheelStress(named.tyre), soil, last.moisture,
                                            last.moisture_below, draws);
    state.machine = std::move(named.machine);
    state.tyre = named.tyre;
    return state;
}

}  // namespace beetwright::engine
