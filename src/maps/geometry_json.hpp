// Areas as the geometries of GeoJSON (RFC 7946): rings closed, cut where they cross the
// antimeridian, corners to a millimetre.
#pragma once

#include "ground/area.hpp"
#include "io/json.hpp"

namespace beetwright::maps {

/// A Polygon where one does, else a MultiPolygon.
io::Json geometry_json(const ground::Area& area);
/// Always a MultiPolygon, for those who want one form alone.
io::Json multi_polygon_json(const ground::Area& area);

}  // namespace beetwright::maps
