// Rows that speak of a pile: which it is, and what of them does not go with how it is laid out.
#pragma once

#include <optional>
#include <string_view>

#include "io/season_read.hpp"
#include "io/table.hpp"
#include "ledger/pile_site.hpp"

namespace beetwright::io {

/// A pile that a row names. Null: no more is known of it than its name.
struct PileNamed {
    const ledger::PileSite* site = nullptr;
};

/// Nothing where it is none, which is told, here or with the names.
std::optional<PileNamed> pile_in(const FolderReading& reading, TableReader& reader,
                                 const TableRow& row, std::size_t column);

/// The stretch between two cells.
check::Stretch stretch_in(const TableRow& row, std::size_t from, std::size_t to);

/// Whether there are no problems; each is told at the column that its field names, after a prefix.
bool is_sound(TableReader& reader, const Table& table, const Problems& problems,
              std::string_view prefix = "");

/// Of a stretch, as far as the pile is known.
Problems problems_of(const check::Stretch& stretch, const PileNamed& pile);

}  // namespace beetwright::io
