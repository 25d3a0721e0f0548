// What somebody says about a file of positions or heights that does not say it itself; it counts
// before what the file says.
#pragma once

#include <optional>
#include <string>

#include "base/time.hpp"
#include "ground/track.hpp"

namespace beetwright::maps {

struct MapFacts {
    std::string crs = {};          ///< "EPSG:25832", or the text of a .prj file
    std::string height_unit = {};  ///< "ft"; metres where nobody says
    ground::HeightOver heights_over = ground::HeightOver::unknown;
    std::optional<Day> first_day = std::nullopt;  ///< of a receiver's log that has only times
};

}  // namespace beetwright::maps
