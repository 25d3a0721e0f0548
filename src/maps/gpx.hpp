// Zones as GPX 1.1, for receivers that show tracks: their borders, to be driven or walked along.
#pragma once

#include <string>

#include "maps/zone_plan.hpp"

namespace beetwright::maps {

/// A track for each zone, a segment for each of its rings, closed.
std::string write_gpx(const ZonePlan& plan);

}  // namespace beetwright::maps
