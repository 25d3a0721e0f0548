// Shapefiles: borders of fields from .shp, .dbf, .prj and .cpg. docs/formats/maps.md.
//
// Our own reader: docs/decisions/0016_own_shapefile_reader.md.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "maps/map_facts.hpp"
#include "maps/map_reading.hpp"

namespace beetwright::maps {

/// The files that one shapefile is of, by their endings. All but the first may be empty.
struct ShapefileParts {
    std::string_view shp;
    std::string_view dbf = {};
    std::string_view prj = {};
    std::string_view cpg = {};
};

/// `file` is the name of the .shp file; problems name the record. Without a .prj file the facts say
/// the coordinate system, or it is supposed to be in degrees where its numbers can be.
Result<AreasReading> read_shapefile(const ShapefileParts& parts, const std::string& file,
                                    const MapFacts& facts = {});

/// Whether these bytes begin as a .shp file does.
bool looks_like_shapefile(std::string_view bytes);

}  // namespace beetwright::maps
