// A season as a folder of tables that a spreadsheet can write. docs/formats/.
//
// season.json and fields.csv must be there; terms.json and the other tables may be. Either
// everything in the folder is in order and a Season comes out, or every problem in every file is
// listed.
//
// Who a row is. A row that was seen once is one row, however often its folder is read: an id that
// it carries says which; without one, what it says names it (a sheet of beets goes by its name and
// field). Rows are never edited: a correction is a row of its own, whose `supersedes` says which
// earlier row it corrects, and both stay. records/season_file.hpp tells what an import does with
// rows that were edited all the same.
#pragma once

#include <map>
#include <string>

#include "base/result.hpp"
#include "io/season_rows.hpp"
#include "ledger/season.hpp"

namespace beetwright::io {

inline constexpr int kSeasonVersion = 1;

/// The files of a folder by name: their bytes.
using FileTexts = std::map<std::string, std::string>;

/// What a folder says, with the place of each observation.
struct SeasonReading {
    ledger::Season season;
    RowPlaces places;
};

/// `known`: the observations of the season that the folder goes into, which it may correct.
Result<SeasonReading> read_season_rows(const FileTexts& files, const KnownIds& known);
Result<ledger::Season> read_season(const FileTexts& files);
/// Reads tables of observations alone, as a tablet sends them: the fields, machines and
/// destinations they name are `season`'s. The answer holds these observations and nothing else.
/// Problems: also a file that is not a table of observations.
Result<SeasonReading> read_observation_rows(const FileTexts& files, const ledger::Season& season,
                                            const KnownIds& known);
/// Whether the season's payment terms say anything. Without a terms.json they do not, and none is
/// written.
bool has_terms(const ledger::Season& season);
/// All but the weather, which is large and changes for itself: weather_season.hpp writes it.
FileTexts write_season(const ledger::Season& season, UnitSystem system);
/// Only the tables of observations, those that hold any.
FileTexts write_observations(const ledger::Season& observations, UnitSystem system);

/// The same on disk. Other files in the folder are left alone, and not read.
Result<SeasonReading> read_season_folder_rows(const std::string& path, const KnownIds& known);
Result<ledger::Season> read_season_folder(const std::string& path);
/// Writes every file beside its place first and then puts all in place.
Result<Done> write_season_folder(const ledger::Season& season, const std::string& path,
                                 UnitSystem system);

}  // namespace beetwright::io
