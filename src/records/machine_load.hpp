// Reading the machines that a season file holds, and what their crews wrote down of them.
#pragma once

#include <vector>

#include "base/result.hpp"
#include "check/machine_log.hpp"
#include "ledger/machine.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

/// With their controls and dials.
Result<std::vector<ledger::Machine>> load_machines(const Database& database);
Result<std::vector<check::SettingsNote>> load_settings(const Database& database);
Result<std::vector<check::PartChange>> load_parts(const Database& database);

}  // namespace beetwright::records
