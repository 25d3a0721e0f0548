// Where a machine drove, as a plain table with units in its headings: a row for each instant.
// docs/formats/maps.md.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "ground/track.hpp"
#include "maps/map_facts.hpp"

namespace beetwright::maps {

/// Positions as latitude and longitude, or as east and north in the coordinate system that a line
/// `# crs: EPSG:25832` at the top, or the facts, name. Rows without a position are passed over,
/// with a note.
Result<ground::Track> read_point_table(std::string_view bytes, const std::string& file,
                                       const MapFacts& facts = {});

}  // namespace beetwright::maps
