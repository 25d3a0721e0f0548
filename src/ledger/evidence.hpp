// From observations to the uncertain amounts of a field.
//
// An amount is measured here where this field was counted; else learned from the same machine's
// other fields, or from all of the season's where it goes with crop and weather, if enough of those
// were counted; else published. Amounts that were not measured never pass for measured: every one
// carries what it rests on.
#pragma once

#include <vector>

#include "base/catalogue.hpp"
#include "ledger/amounts.hpp"
#include "ledger/season.hpp"

namespace beetwright::ledger {

/// The observations that still stand: those that a later one supersedes are left out.
Season without_superseded(const Season& season);

/// The amounts of every field of the season, in the order of season.fields. The season must hold no
/// superseded observations.
std::vector<FieldAmounts> season_amounts(const Season& season, const Catalogue& catalogue);

}  // namespace beetwright::ledger
