// The readers of a season folder's tables: one for the masters, one for the observations.
#pragma once

#include <string>
#include <string_view>

#include "io/corrections.hpp"
#include "io/names_used.hpp"
#include "io/problem_list.hpp"
#include "io/season_folder.hpp"
#include "io/table.hpp"
#include "ledger/season.hpp"

namespace beetwright::io {

/// What the readers of all tables share.
struct FolderReading {
    const FileTexts& files;
    ledger::Season& season;
    /// That whose masters the observations name: `season`, where both stand in one folder.
    const ledger::Season& masters;
    ProblemList& problems;
    NamesUsed& names;
    Corrections& corrections;
    RowPlaces& places;

    /// The bytes of a table's file; empty where it is not there. A required one that is not is a
    /// problem.
    [[nodiscard]] std::string_view bytes_of(const Table& table) const {
        const auto found = files.find(std::string(table.file));
        if (found != files.end()) {
            return found->second;
        }
        if (table.presence == Presence::required) {
            problems.add({ProblemKind::missing,
                          {.file = std::string(table.file), .line = 0, .field = ""},
                          "this file is missing",
                          "was the whole folder copied? " + std::string(table.words)});
        }
        return {};
    }
    /// Reads every row of a table that is there.
    template <class Take>
    void each(const Table& table, Take&& take) const {
        const auto bytes = bytes_of(table);
        if (bytes.data() == nullptr) {
            return;
        }
        TableReader reader(table, bytes, season.currency, problems);
        if (!reader.open()) {
            return;
        }
        names.can_be_read(table);
        reader.read([&](const TableRow& row) { take(reader, row); },
                    [&](const TableRow& row) { names.look(table, row); });
    }
};

/// fields, machines, soils, destinations, piles, temperatures, constants.
void read_masters(const FolderReading& reading);
/// Machines with their controls and dials.
void read_machines(const FolderReading& reading);
/// Piles that are destinations, with their fans.
void read_piles(const FolderReading& reading);
/// loads, sheets of beets, strips, tares, labs, looks at standing crops, settings, parts, covers,
/// probes, removals, places.
void read_observations(const FolderReading& reading);
/// Sheets of beets, from either of their tables.
void read_counted_beets(const FolderReading& reading);
void read_settings(const FolderReading& reading);
void read_parts(const FolderReading& reading);
void read_covers(const FolderReading& reading);
void read_probes(const FolderReading& reading);
void read_removals(const FolderReading& reading);

}  // namespace beetwright::io
