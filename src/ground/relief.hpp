// What a grid of heights says of the ground's shape: how steep, and how high against what is
// around. docs/methods/relief.md.
#pragma once

#include "ground/grid.hpp"

namespace beetwright::ground {

/// Steepest slope, as rise over run: from the eight cells around each by Horn's weights
/// (Proceedings of the IEEE 69, 1981, 14-47); at an edge from the sides that there are. NaN where
/// the cell or all of its neighbours are not known.
Layer slope_of(const Grid& grid, const Layer& heights);

/// Height less the mean height of the cells whose middles lie from `inner_m` to `outer_m` away [m]:
/// topographic position (Guisan, Weiss and Weiss, Plant Ecology 143, 1999, 107-122). At the edge of
/// a field the ring is what of it lies inside; NaN where nothing does.
Layer position_of(const Grid& grid, const Layer& heights, double inner_m, double outer_m);

/// The mean of what is known within `reach_m` of each known cell.
Layer mean_around(const Grid& grid, const Layer& values, double reach_m);

}  // namespace beetwright::ground
