// A time log: what its header says stands in each record, and the records. Only read_task_data uses
// this.
#pragma once

#include <string>
#include <string_view>

#include "ground/track.hpp"
#include "io/problem_list.hpp"
#include "maps/iso11783_read.hpp"

namespace beetwright::maps {

/// The two files of a log.
struct LogFiles {
    const NamedFile* header;   ///< TLGnnnnn.XML
    const NamedFile* records;  ///< TLGnnnnn.BIN
};

/// The fixes of a log, with notes on what was left out; without any where something is wrong or it
/// has no positions. `room` is how many fixes there may be, less those that are taken.
ground::Track read_time_log(const LogFiles& files, const TaskDataFacts& facts, std::size_t& room,
                            io::ProblemList& problems);

}  // namespace beetwright::maps
