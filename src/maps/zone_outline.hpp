// Zones as cells become zones as polygons, with what is set in each. docs/methods/zones.md.
#pragma once

#include <string>

#include "engine/zones_question.hpp"
#include "maps/kept_zones.hpp"
#include "maps/zone_plan.hpp"

namespace beetwright::maps {

/// Zones run along the cells that they are made of, within the field's border where one was given.
/// In each stand the controls that differ from zone to zone, with their values there.
ZonePlan plan_of(const std::string& season, const ground::Surface& surface,
                 const engine::ZonesAnswer& answer);

/// The same as they are kept in a season.
KeptZones zones_to_keep(const engine::ZonesAnswer& answer, const ZonePlan& plan);

}  // namespace beetwright::maps
