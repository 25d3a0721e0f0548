// The best order by a dynamic programme over what is left of the piles and where the loader stands.
#pragma once

#include <optional>

#include "base/progress.hpp"
#include "campaign/slicing_work.hpp"

namespace beetwright::campaign {

/// Its states, reckoned without making them; finite, and more than can be counted as a double.
double exact_states(const SlicingWork& work);

struct ExactAnswer {
    std::optional<Sequence> order;  ///< absent: no order keeps all days
    bool is_stopped = false;
};

/// Steps are told in states.
ExactAnswer exact_order(const SlicingWork& work, Steps& steps);

}  // namespace beetwright::campaign
