#include "engine/lifting_rules.hpp"

#include <algorithm>

namespace beetwright::engine {

bool goes_to_pile(const ledger::Season& season, const ledger::Field& field) {
    const auto place =
        std::ranges::find(season.destinations, field.destination, &ledger::Destination::name);
    return place == season.destinations.end() || place->kind == ledger::DestinationKind::pile;
}

weather::RulesOf rules_of(const ledger::Season& season, const ledger::Field& field) {
    const bool to_pile = goes_to_pile(season, field);
    return [to_pile](const weather::LiftingConstants& constants) {
        auto rules = weather::usual_rules(constants);
        rules.goes_to_pile = to_pile;
        return rules;
    };
}

}  // namespace beetwright::engine
