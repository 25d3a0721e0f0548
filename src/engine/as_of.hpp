// The moment up to which a season knows anything: what "now" means where nobody says.
#pragma once

#include "base/time.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

/// The last instant at which anything was seen, or until which weather was measured; the start of
/// the first day where nothing was.
Instant as_of(const ledger::Season& season);

/// The season as it was known at an instant: what was seen by then, weather measured by then, and
/// fields that were lifted on a later day still standing.
ledger::Season known_season(ledger::Season season, Instant now);

/// How far the season's local clock is ahead of UTC: its weather's, or by no weather nothing.
std::chrono::minutes clock_of(const ledger::Season& season);

}  // namespace beetwright::engine
