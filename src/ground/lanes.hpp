// The passes in which a field will be driven, and where on each the ground becomes another zone.
#pragma once

#include <cstddef>
#include <vector>

#include "ground/grid.hpp"

namespace beetwright::ground {

/// A zone for each cell of a grid, from 1; 0 outside the field.
using ZoneLayer = std::vector<int>;

/// Part of a lane within one zone.
struct LaneStretch {
    std::size_t lane = 0;  ///< from 0, in the order across the grid's rows
    double from_m = 0.0;   ///< along the rows, from the grid's corner
    double to_m = 0.0;
    int zone = 0;
};

/// Where a lane goes over into another zone.
struct Transition {
    std::size_t lane = 0;
    Point at;
    int from = 0;
    int to = 0;  ///< as the rows run; driven the other way it is the other way round
};

struct Lanes {
    double width_m = 0.0;
    std::vector<LaneStretch> stretches;  ///< by lane, then along it
    std::vector<Transition> transitions;

    /// Ground of a zone as it is driven.
    [[nodiscard]] double area_m2(int zone) const;
};

/// Lanes of a width along a grid's rows. What is shorter than `least_m` is driven with what comes
/// before it.
Lanes lanes_of(const Grid& grid, const ZoneLayer& zones, double width_m, double least_m);

}  // namespace beetwright::ground
