// What of a field's ground somebody sends: its border, and what tells its heights. A map by itself
// (map_file.hpp), or one archive that holds a map or a terminal's task data. docs/formats/maps.md.
#pragma once

#include <span>
#include <string>
#include <variant>
#include <vector>

#include "base/result.hpp"
#include "ground/area.hpp"
#include "ground/track.hpp"
#include "maps/map_facts.hpp"
#include "maps/map_file.hpp"

namespace beetwright::maps {

/// Where heights come from: what was driven, or heights that somebody else measured.
using HeightsReading = std::variant<ground::Track, ground::Heights>;

struct BorderReading {
    ground::Area area;
    std::vector<std::string> notes = {};  ///< what was supposed in reading
};

/// The border of the field of this name: the only area of the map, or the one of that name; of
/// task data the partfields. Problems say which names there are.
Result<BorderReading> read_border(std::span<const MapFile> files, const std::string& field,
                                  const MapFacts& facts = {});

/// What tells the heights of the field of this name. Of task data: the logs of its tasks on the
/// partfield of that name, or of the only task that has any, as one track. Of the facts, only what
/// heights are over counts for task data, which says all else.
Result<HeightsReading> read_heights(std::span<const MapFile> files, const std::string& field,
                                    const MapFacts& facts = {});

}  // namespace beetwright::maps
