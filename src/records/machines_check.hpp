// Whether what a season file says of its machines goes together.
#pragma once

#include "base/result.hpp"
#include "io/season_rows.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

/// Adds to `problems` what makes a machine none: ranges, displays' points and settings that were
/// imported at different times may contradict each other. Its own problem: the file cannot be read.
Result<Done> check_machines(const Database& database, const io::RowPlaces& places,
                            Problems& problems);

}  // namespace beetwright::records
