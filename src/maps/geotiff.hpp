// Grids of heights as GeoTIFF. docs/formats/maps.md.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "ground/track.hpp"
#include "maps/map_facts.hpp"

namespace beetwright::maps {

/// One band of whole or fractional numbers, in strips or tiles, in a system that the file names by
/// its EPSG code or the facts name. Heights are metres unless file or facts say otherwise.
Result<ground::Heights> read_geotiff(std::string_view bytes, const std::string& file,
                                     const MapFacts& facts = {});

/// Whether these bytes begin as a TIFF does.
bool looks_like_tiff(std::string_view bytes);

}  // namespace beetwright::maps
