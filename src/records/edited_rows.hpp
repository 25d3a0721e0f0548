// Rows that were edited after they had been imported.
#pragma once

#include "base/result.hpp"
#include "io/season_rows.hpp"
#include "ledger/season.hpp"

namespace beetwright::records {

/// What of `incoming` contradicts `stored`, where both hold all observations with their beets.
///
/// An id that is stored with other content is an edited row. A row without an id is named by its
/// content, so that an edited one looks new, and would count twice. It is taken for an edited one,
/// and refused, when the season holds another without an id that `incoming` does not bring, that
/// nothing corrects, and that agrees with it in
///   - its ticket and destination, for loads that have one;
///   - field and time, and for strips the machine, whatever was found there;
///   - everything but its field, its ticket, its machine or its pile;
///   - everything but its time, where `incoming` brings other rows that the season knows: in a
///     folder that brings only new ones, another day with the same figures is another day.
/// A sheet of beets goes by its name and field; under another name or field the same beets at the
/// same time are the same sheet.
/// What was edited in more than that cannot be told from something new.
Problems edited_rows(const ledger::Season& stored, const ledger::Season& incoming,
                     const io::RowPlaces& places);

/// Whether edited_rows() needs the beets of stored sheets.
bool looks_at_beets(const ledger::Season& stored, const ledger::Season& incoming);

/// Where a row stands, at a column; without a file where that is not known.
Where place_of(const Uuid& id, const io::RowPlaces& places, const std::string& column);

}  // namespace beetwright::records
