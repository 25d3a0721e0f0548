// Straight runs in what was driven, the direction of most of them, and how far they lie apart.
#pragma once

#include <vector>

#include "ground/cleaning.hpp"

namespace beetwright::ground {

/// Parts what was driven into straight runs of 30 m and more, and says in each sample which it is
/// of. `breaks`: samples before which the machine stopped work or the log has a gap.
std::vector<Pass> part_into_passes(std::vector<Sample>& samples, const std::vector<bool>& breaks);

/// In which most is driven, 0 to pi. `passes` is not empty.
double main_direction(const std::vector<Pass>& passes);

/// From pass to pass side by side [m], of those in the main direction.
std::vector<double> gaps_between(const std::vector<Sample>& samples,
                                 const std::vector<Pass>& passes, double direction_rad);

/// Share of passes of this width that the pass beside them covers as well.
double overlap_of(const std::vector<double>& gaps_m, double width_m);

}  // namespace beetwright::ground
