// What a plan and a zone are called, and how its settings read, in every file that zones go out in.
#pragma once

#include <string>

#include "maps/zone_plan.hpp"

namespace beetwright::maps {

/// "Hollow Oak, Autumn 2031"; the field alone where no season is named.
std::string plan_name(const ZonePlan& plan);
/// "zone 2: knoll"; "zone 2" where there are no words.
std::string zone_name(const PlannedZone& zone);
/// Digits of a number on a machine's display.
inline constexpr int kDisplayDigits = 6;
/// A line for each: "depth of the shares: 80 mm (display 2.5)".
std::string settings_words(const PlannedZone& zone);

}  // namespace beetwright::maps
