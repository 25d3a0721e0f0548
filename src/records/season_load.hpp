// Reading the observations that a season file holds.
#pragma once

#include "base/result.hpp"
#include "ledger/season.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

enum class Beets { leave, load };

/// A season of observations alone; its sheets without their beets unless they are asked for.
Result<ledger::Season> load_observations(const Database& database, Beets beets);

}  // namespace beetwright::records
