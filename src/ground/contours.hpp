// Lines of equal height over a grid, for drawing. docs/methods/relief.md.
#pragma once

#include <vector>

#include "ground/grid.hpp"

namespace beetwright::ground {

struct ContourLine {
    double height_m = 0.0;
    std::vector<Point> course;  ///< of a closed line the last point is the first again
};

/// Lines at every multiple of `step_m`, between the middles of cells whose heights are known.
std::vector<ContourLine> contours_of(const Grid& grid, const Layer& height_m, double step_m);

}  // namespace beetwright::ground
