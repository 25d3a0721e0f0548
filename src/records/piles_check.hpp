// Whether what a season file says of its piles goes together, after more was imported.
#pragma once

#include "base/result.hpp"
#include "io/season_rows.hpp"
#include "records/sqlite.hpp"

namespace beetwright::records {

/// Adds what contradicts: something said of a pile that is a factory now, or that lies beyond the
/// pile as it is laid out now. `places`: where the rows of this import stand.
Result<Done> check_piles(const Database& database, const io::RowPlaces& places, Problems& problems);

}  // namespace beetwright::records
