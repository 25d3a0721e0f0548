// Zones as KML 2.2, for a phone or a map on a desk.
#pragma once

#include <string>

#include "maps/zone_plan.hpp"

namespace beetwright::maps {

/// The field's border as a line, the zones filled in one hue, the darker the higher their number;
/// each says its settings.
std::string write_kml(const ZonePlan& plan);

}  // namespace beetwright::maps
