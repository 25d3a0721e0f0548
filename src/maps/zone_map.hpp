// Zones drawn to scale, for paper: border, hatches, numbers, north, a bar of known length and
// degrees along the frame. Only the page of zones uses this.
#pragma once

#include <string>

#include "base/unit.hpp"
#include "maps/relief_lines.hpp"
#include "maps/zone_plan.hpp"

namespace beetwright::maps {

/// An SVG element; nothing where neither the field nor a zone has a corner. Hatches are those of
/// zone_hatches.hpp, defined in it.
std::string zone_map_svg(const ZonePlan& plan, const ReliefLines& relief, UnitSystem units);

/// In the middle of what is drawn; none where nothing is.
std::optional<ground::Position> middle_of_plan(const ZonePlan& plan);

}  // namespace beetwright::maps
