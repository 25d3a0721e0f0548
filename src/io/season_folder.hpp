// A season as a folder of tables that a spreadsheet can write. docs/formats/.
//
// season.json and fields.csv must be there; terms.json and the other tables may be. Either
// everything in the folder is in order and a Season comes out, or every problem in every file is
// listed.
#pragma once

#include <map>
#include <string>

#include "base/result.hpp"
#include "ledger/season.hpp"

namespace beetwright::io {

inline constexpr int kSeasonVersion = 1;

/// The files of a folder by name: their bytes.
using FileTexts = std::map<std::string, std::string>;

Result<ledger::Season> read_season(const FileTexts& files);
FileTexts write_season(const ledger::Season& season, UnitSystem system);

/// The same on disk. Other files in the folder are left alone, and not read.
Result<ledger::Season> read_season_folder(const std::string& path);
/// Writes every file beside its place first and then puts all in place.
Result<Done> write_season_folder(const ledger::Season& season, const std::string& path,
                                 UnitSystem system);

}  // namespace beetwright::io
