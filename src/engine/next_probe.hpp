// Where a further probe would teach most. docs/methods/pile_probes.md.
#pragma once

#include <vector>

#include "engine/pile_study.hpp"

namespace beetwright::engine {

/// A reading that is not there yet, and what it is worth.
struct NextProbe {
    std::size_t part = 0;
    PlaceInPile place;
    double celsius_low = 0.0, celsius_high = 0.0;  ///< what it would say, 90 % of it
    /// Half the width of the interval of the sugar lost by slicing [kg]: as it is before this one,
    /// with those named before it read, and after.
    double half_width_before_kg = 0.0, half_width_after_kg = 0.0;
};

/// At most so many places, the one that teaches most first; each with those before it read. Fewer
/// where no further one would take a thirtieth off the interval. `courses` have one frame, of
/// today.
std::vector<NextProbe> next_probes(const PileStudy& study, const Courses& courses,
                                   std::size_t most = 3);

}  // namespace beetwright::engine
