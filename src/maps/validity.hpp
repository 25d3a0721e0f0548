// What is wrong with an area as a field's or a zone's: corners that are nowhere, rings that cross
// themselves, holes outside, sizes that no field has.
#pragma once

#include "ground/area.hpp"
#include "io/problem_list.hpp"

namespace beetwright::maps {

/// Larger than any field, and smaller than anything a machine is sent to.
inline constexpr double kMostField_m2 = 5000.0 * 1e4;
inline constexpr double kLeastField_m2 = 0.01 * 1e4;

/// What a file's numbers come in, for the fix of those that are nowhere on earth.
enum class NumberOrder { latitude_first, longitude_first, projected };

/// Adds every problem of the area, each at `where`; whether there was none. Rings hold each corner
/// once (rings.hpp). A field is not smaller than `least_m2`; a zone may be.
bool look_through(const ground::Area& area, const Where& where, NumberOrder order,
                  io::ProblemList& problems, double least_m2 = kLeastField_m2);

}  // namespace beetwright::maps
