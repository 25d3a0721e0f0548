// GeoJSON as RFC 7946 has it: borders of fields in, zones and areas out. docs/formats/maps.md.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "maps/map_reading.hpp"
#include "maps/zone_plan.hpp"

namespace beetwright::maps {

/// Problems name the member, `features[3].geometry.coordinates`. Points and lines are passed over,
/// with a note.
Result<AreasReading> read_geojson(std::string_view bytes, const std::string& file);

/// The field's border and its zones, in the order of their numbers, each a feature: `kind` says
/// which it is, `settings` has a zone's controls by their ids, in people's units.
std::string write_geojson(const ZonePlan& plan);
/// What the areas' file said of them becomes their properties, as text.
std::string write_geojson(std::span<const NamedArea> areas);

}  // namespace beetwright::maps
