// Which rings of a shape are holes of which: the format says so only by the way round that they
// run.
#pragma once

#include <cstddef>
#include <vector>

#include "ground/area.hpp"

namespace beetwright::maps {

/// Rings as polygons, each hole with the smallest ring that is around it. `stray` counts the holes
/// around which there is none.
ground::PlaneArea polygons_of(std::vector<ground::PlaneRing> rings, std::size_t& stray);

}  // namespace beetwright::maps
