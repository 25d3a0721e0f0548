// Orders by a plain rule: each time the part that comes first by it, of those that can be got at
// and may be sliced by now.
#pragma once

#include <functional>

#include "campaign/slicing_work.hpp"

namespace beetwright::campaign {

/// How soon a part goes that would begin at a position: the least first. Of equals the one where
/// the loader stands, then as they stand.
using Rank = std::function<double(PartIndex part, double from_kg)>;

/// Where none may be sliced yet, one is all the same; nobody looks ahead to the days by which parts
/// must be gone. So the order need not keep all days.
Sequence order_by_rote(const SlicingWork& work, const Rank& rank);

}  // namespace beetwright::campaign
