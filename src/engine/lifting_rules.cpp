#include "engine/lifting_rules.hpp"

#include <algorithm>
#include <cmath>

#include "weather/soil_rules.hpp"

namespace beetwright::engine {
namespace {

/// What somebody said of this soil, in the place of what its class would.
void overrule(const ledger::SoilRules& said, weather::FieldRules& rules) {
    constexpr double kMillimetre_m = 1e-3;
    const auto put = [](double known, double& into) {
        if (!std::isnan(known)) {
            into = known;
        }
    };
    put(said.holds.si() / kMillimetre_m, rules.bucket_mm);
    put(said.rain_stop.si() / kMillimetre_m, rules.rain_stop_mm);
    put(said.drain_lag / unit::hour, rules.drain_lag_h);
    put(said.stop_filling, rules.bucket_stop);
    put(said.drains_to, rules.drained);
}

}  // namespace

bool goes_to_pile(const ledger::Season& season, const ledger::Field& field) {
    const auto place =
        std::ranges::find(season.destinations, field.destination, &ledger::Destination::name);
    return place == season.destinations.end() || place->kind == ledger::DestinationKind::pile;
}

weather::RulesOf rules_of(const ledger::Season& season, const ledger::Field& field) {
    const auto said = std::ranges::find(season.soils, field.soil, &ledger::SoilRules::name);
    return [to_pile = goes_to_pile(season, field),
            soil_class = ledger::soil_class_of(season, field.soil),
            said = said == season.soils.end() ? ledger::SoilRules{}
                                              : *said](const weather::LiftingConstants& constants) {
        auto rules = weather::rules_for(soil_class, constants);
        overrule(said, rules);
        rules.goes_to_pile = to_pile;
        return rules;
    };
}

}  // namespace beetwright::engine
