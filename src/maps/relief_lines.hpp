// A surface as lines of equal height, as a map on paper has them.
#pragma once

#include <vector>

#include "base/unit.hpp"
#include "ground/surface.hpp"

namespace beetwright::maps {

struct ReliefLine {
    double height_m = 0.0;
    std::vector<ground::Position> course;
};

struct ReliefLines {
    double step_m = 0.0;
    std::vector<ReliefLine> lines = {};
};

/// Some eight of them from the lowest ground to the highest, a round number of people's metres or
/// feet apart and no less than 0.2 m or half a foot. None where the ground is flatter than that.
ReliefLines relief_lines(const ground::Surface& surface, UnitSystem units);

}  // namespace beetwright::maps
