// Where water gathers: how much ground drains through each cell, and how slowly it gets away.
// docs/methods/relief.md.
#pragma once

#include "ground/grid.hpp"

namespace beetwright::ground {

/// Heights with hollows filled to where they overflow and a fall too small to measure given to what
/// is level, so that from every cell water reaches the edge of the field: Barnes, Lehman and Mulla,
/// Computers and Geosciences 62, 2014, 117-127.
Layer filled(const Grid& grid, const Layer& heights);

/// Ground that drains through each cell, per metre of its width [m]. Water parts among all lower
/// neighbours by slope to the power 1.1: Freeman, Computers and Geosciences 17, 1991, 413-422.
Layer drained_by(const Grid& grid, const Layer& heights);

/// ln(drained ground / slope): Beven and Kirkby, Hydrological Sciences Bulletin 24, 1979, 43-69. A
/// slope is taken for at least `least_slope`, so that level ground has a number too.
Layer wetness_of(const Grid& grid, const Layer& heights, double least_slope = 0.002);

}  // namespace beetwright::ground
