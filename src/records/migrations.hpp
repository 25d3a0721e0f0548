// The versions of the season file. docs/formats/season_file.md.
#pragma once

#include <string>

#include "records/sqlite.hpp"

namespace beetwright::records {

/// "BEET" as SQLite's application_id: says that a file is a season file.
inline constexpr std::int64_t kApplicationId = 0x42454554;
inline constexpr std::int64_t kNewestVersion = 11;

/// Brings a file up to kNewestVersion, each version in a transaction of its own; a file that is
/// empty becomes a new season file. Problems: a newer version, a database that is not a season
/// file.
Result<Done> migrate(const Database& database);

/// Opens a season file to be written: brought up to date, and so that what was reported as done
/// survives a power cut (write-ahead log, full synchronisation).
Result<Database> open_to_write(const std::string& path, Access access);

/// The same checks without changing anything.
Result<Done> check_version(const Database& database);

}  // namespace beetwright::records
