// Whether the corrections that a season file holds are sound.
#pragma once

#include "base/result.hpp"
#include "io/season_rows.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

/// Adds to `problems` each correction of something that the season does not hold, and each second
/// correction of one thing, for both would count; but of a row that has a problem already, no more.
/// Its own problem: the file cannot be read.
Result<Done> check_corrections(const Database& database, const io::RowPlaces& places,
                               Problems& problems);

}  // namespace beetwright::records
