// What the verbs share: where a season comes from, how problems are told, which units are shown.
#pragma once

#include <optional>
#include <string>

#include "base/result.hpp"
#include "base/time.hpp"
#include "base/unit.hpp"
#include "ledger/season.hpp"

namespace beetwright::cli {

/// A season from a season file, or from a season folder of CSV files.
Result<ledger::Season> load_season(const std::string& path);

/// Prints every problem on standard error; gives the exit code: 3 if any came from the outside
/// world, else 1.
int tell(const Problems& problems);

/// The units asked for on the command line ("metric", "us"), or the season's own.
UnitSystem chosen_units(const std::string& words, const ledger::Season& season);

/// The first of these problems, told of an option of the command line.
Problem said_of(const std::string& option, const Problems& problems);

/// What now is, by `--at`; nothing where it was not said.
Result<std::optional<Instant>> chosen_instant(const std::string& words);

/// The clock's.
Instant now();

/// Makes a season file that holds no field yet: named after the file, of no currency, its campaign
/// beginning on this day. Problem: there is such a file.
Result<Done> make_season_file(const std::string& path, Day first_day);

/// Takes away a file that was made for something that then failed.
void remove_season_file(const std::string& path);

/// A whole file's bytes.
Result<std::string> read_file(const std::string& path);

/// Writes a whole file by way of a neighbour that is renamed over it, so that no half file is left.
Result<Done> write_file(const std::string& path, const std::string& text);

}  // namespace beetwright::cli
