// Any file of a map: which kind it is, is seen by what stands in it and not by its name.
// docs/formats/maps.md.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <variant>

#include "base/result.hpp"
#include "ground/track.hpp"
#include "maps/map_facts.hpp"
#include "maps/map_reading.hpp"

namespace beetwright::maps {

struct MapFile {
    std::string name;
    std::string_view bytes;
};

enum class MapKind { geojson, shapefile, nmea, point_table, ascii_grid, geotiff, unknown };

/// What this file is by itself.
MapKind kind_of(const MapFile& file);
/// Whether it is no map, but ends as one of those that programs put beside one.
bool is_companion(const MapFile& file);

using MapReading = std::variant<AreasReading, ground::Track, ground::Heights>;

/// One map: a file, or the several of one shapefile, or a grid with its .prj beside it. Files that
/// programs put beside these (.shx, .aux.xml) may come along.
Result<MapReading> read_map_file(std::span<const MapFile> files, const MapFacts& facts = {});

}  // namespace beetwright::maps
