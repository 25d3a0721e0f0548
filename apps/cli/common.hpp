// What the verbs share: where a season comes from, how problems are told, which units are shown.
#pragma once

#include <optional>
#include <string>

#include "base/result.hpp"
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

/// Writes a whole file by way of a neighbour that is renamed over it, so that no half file is left.
Result<Done> write_file(const std::string& path, const std::string& text);

}  // namespace beetwright::cli
