// The rules for lifting in a field of a season.
#pragma once

#include "ledger/season.hpp"
#include "weather/open_chance.hpp"

namespace beetwright::engine {

/// Beets go into a pile unless their destination is known to be a factory: warm roots are then
/// held.
bool goes_to_pile(const ledger::Season& season, const ledger::Field& field);

/// By the field's soil and destination.
weather::RulesOf rules_of(const ledger::Season& season, const ledger::Field& field);

}  // namespace beetwright::engine
