// A plan's settings as a terminal can take them: values under identifiers, and words for the rest.
// Only write_task_data uses this.
#pragma once

#include <string>
#include <vector>

#include "io/problem_list.hpp"
#include "maps/iso11783_read.hpp"
#include "maps/iso11783_write.hpp"

namespace beetwright::maps {

struct ZoneSettings {
    std::vector<IdentifiedValue> values;
    std::vector<std::string> words;  ///< "70 mm share.depth": value first, should it be cut off
};

/// One for each of the plan's zones. In a grid all cells have the same identifiers, so a control
/// goes out under one only where every zone sets it; and under none where a machine has several of
/// it, for one number cannot set two.
std::vector<ZoneSettings> zone_settings(const ZonePlan& plan, TaskDataForm form,
                                        std::vector<std::string>& notes, io::ProblemList& problems);

/// At most this many characters, as the standard gives any name or comment; cut with a note.
std::string name_of_32(const std::string& text, std::vector<std::string>& notes);
/// Characters, not bytes.
std::size_t characters(std::string_view text);

}  // namespace beetwright::maps
