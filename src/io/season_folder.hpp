// A season as a folder of CSV and JSON files that a spreadsheet can write. docs/formats/README.md.
//
// The folder is read whole or not at all, and every problem of every file is told at once.
#pragma once

#include <functional>
#include <map>
#include <string>

#include "base/result.hpp"
#include "base/unit.hpp"
#include "ledger/season.hpp"

namespace beetwright::io {

/// File name to bytes: a season folder without a disk.
using SeasonTexts = std::map<std::string, std::string, std::less<>>;

/// Reads a season from the bytes of its files. Observations without an id get one from their table
/// and what tells them apart, so that reading twice gives the same ids.
Result<ledger::Season> read_season(const SeasonTexts& texts);

/// Writes every file of a season, in one system of units. What it writes reads back as an equal
/// season: numbers stand as they were typed, as long as they were typed in that system.
SeasonTexts write_season(const ledger::Season& season, UnitSystem units);

/// Reads the folder's .csv and .json files; names that begin with . or ~ are passed over.
Result<ledger::Season> read_season_folder(const std::string& folder);

/// Writes the files into a folder, which is made if it is not there. Files of the same names are
/// replaced only after all new ones have reached the disk. A folder that holds other tables is
/// refused: they would be read together with the new ones.
Result<Done> write_season_folder(const ledger::Season& season, const std::string& folder,
                                 UnitSystem units);

}  // namespace beetwright::io
