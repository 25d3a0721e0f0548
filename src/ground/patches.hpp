// Knolls and hollows: pieces of ground that stand out, each bounded where half of its height is.
// docs/methods/relief.md.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

#include "ground/grid.hpp"

namespace beetwright::ground {

/// How a piece of ground lies against what is around it.
enum class Lie : std::uint8_t { level, knoll, hollow };
std::string_view words(Lie lie);

struct Patch {
    Lie lie = Lie::level;
    std::vector<std::size_t> cells;  ///< in order
    double peak_m = 0.0;             ///< by which its top, or its bottom, stands out
    double mean_m = 0.0;             ///< by which it stands out in the mean, negative for a hollow
};

struct PatchWish {
    double least_m = 0.3;     ///< ground that stands out by less is level
    double width_m = 9.0;     ///< a patch that is nowhere so wide is not one
    double stretch_m = 20.0;  ///< along a row: shorter stretches, and gaps, are none
};

/// From how far ground stands out (prominence_of); the largest first.
std::vector<Patch> patches_of(const Grid& grid, const Layer& prominence, const PatchWish& wish);

}  // namespace beetwright::ground
