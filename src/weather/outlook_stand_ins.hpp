// What stands in where the parts of an outlook do not measure the same things.
// docs/methods/outlook.md.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "weather/climate.hpp"

namespace beetwright::weather {

/// Rain of the climate in the hours that have none. Whether there were such.
bool lend_rain(const Climate& climate, Stretch stretch, Series& member);

/// Makes each element whole in all members, or takes it out of all, and says so. Dew point and
/// humidity follow from each other; wind, sunshine and dew point have the stand-ins of
/// lifting_hours.hpp; rain that nobody knows counts as none.
void stand_in_for_what_lacks(std::span<Series> members, std::vector<std::string>& notes);

}  // namespace beetwright::weather
