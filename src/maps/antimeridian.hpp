// Areas that lie across the antimeridian, cut there, for files whose readers know no way across
// (RFC 7946, 3.1.9).
#pragma once

#include "ground/area.hpp"

namespace beetwright::maps {

/// The same ground in polygons of which none crosses 180 degrees of longitude. An area that does
/// not cross is given back as it is.
ground::Area cut_at_antimeridian(const ground::Area& area);

}  // namespace beetwright::maps
