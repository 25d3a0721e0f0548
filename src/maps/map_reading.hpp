// What the readers of map files give back. Each is in a header of its own; all turn bytes into
// these, or into every problem found, with where and how to mend it. docs/formats/maps.md.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "ground/area.hpp"

namespace beetwright::maps {

/// A piece of ground as a file has it.
struct NamedArea {
    std::string name;  ///< empty: the file says none
    ground::Area area;
    /// What else the file says of it, as text.
    std::map<std::string, std::string, std::less<>> said = {};
};

struct AreasReading {
    std::vector<NamedArea> areas;
    std::vector<std::string> notes =
        {};  ///< what was supposed in reading: a projection, a ring turned round
};

}  // namespace beetwright::maps
