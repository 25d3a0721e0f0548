// What a season becomes when one of its own files is set.
#pragma once

#include <set>
#include <string>

#include "base/result.hpp"
#include "io/table.hpp"
#include "ledger/season.hpp"

namespace beetwright::app {

/// The files that can be set.
const std::set<std::string>& settable_files();

/// Which names a file introduces; Master::none where rows have none.
io::Master master_of(const std::string& file);

/// The season with one of its files set to this text. Of fields.csv, machines.csv, soils.csv and
/// destinations.csv each row takes the place of the one of its name and all others stay, so that
/// two who change different rows at one time do not undo each other's. Of the rest the text is the
/// whole file; what controls.csv and dials.csv say stays with its machine, and what piles.csv and
/// fans.csv say with its destination. season.json may set the
/// name, the units and the first day, and the currency as long as no payment terms stand in it; the
/// seed stays, whatever is sent. Problems: all that reading finds.
Result<ledger::Season> with_file(const ledger::Season& season, const std::string& file,
                                 const std::string& text);

}  // namespace beetwright::app
