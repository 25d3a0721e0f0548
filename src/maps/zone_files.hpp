// The forms in which zones go out as a file: for a phone, a map on a desk, a machine's terminal, a
// printer.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "maps/zone_page.hpp"
#include "maps/zone_plan.hpp"

namespace beetwright::maps {

/// What a written file says besides the zones.
struct ZoneFileFacts {
    std::string version;      ///< of this program
    ZonePageFacts page = {};  ///< for the page to print
};

struct ZoneFile {
    std::string bytes;
    std::vector<std::string> notes = {};  ///< what the form could not hold as it is
};

struct ZoneForm {
    std::string_view word;    ///< "taskdata"
    std::string_view type;    ///< of its media: "application/zip"
    std::string_view ending;  ///< ".zip"
    Result<ZoneFile> (*write)(const ZonePlan& plan, const ZoneFileFacts& facts);
};

std::span<const ZoneForm> zone_forms();

}  // namespace beetwright::maps
