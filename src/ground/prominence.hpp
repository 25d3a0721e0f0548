// How far the ground stands out from what lies around it.
//
// Topographic position compares a place with the mean of a ring, which a knoll itself lifts; here
// the ground around is a plane fitted to it with weights that leave out what stands out, so that a
// knoll is as high as it looks and half of its height is where its flank is.
// docs/methods/relief.md.
#pragma once

#include "ground/grid.hpp"

namespace beetwright::ground {

/// [m] over (or, negative, under) the plane fitted to what lies within `reach_m` along and across,
/// by bisquare weights (Beaton and Tukey, Technometrics 16, 1974, 147-185). Differences of
/// `least_m` count as none.
Layer prominence_of(const Grid& grid, const Layer& heights, double reach_m, double least_m);

}  // namespace beetwright::ground
