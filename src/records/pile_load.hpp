// Reading the piles that a season file holds, and what was written down of them.
#pragma once

#include <vector>

#include "base/result.hpp"
#include "check/pile_log.hpp"
#include "ledger/pile_site.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

/// With their fans.
Result<std::vector<ledger::PileSite>> load_piles(const Database& database);
Result<std::vector<check::CoverChange>> load_covers(const Database& database);
Result<std::vector<check::ProbeReading>> load_probes(const Database& database);
Result<std::vector<check::PileRemoval>> load_removals(const Database& database);

}  // namespace beetwright::records
