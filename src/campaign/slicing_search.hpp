// A good order and a bound, where there are too many states to go through.
#pragma once

#include <optional>

#include "base/progress.hpp"
#include "campaign/slicing_work.hpp"

namespace beetwright::campaign {

struct SearchAnswer {
    std::optional<Sequence> order;  ///< absent: none was found that keeps all days
    double bound_money = 0.0;       ///< -infinity: no order keeps all days
    bool is_stopped = false;
};

/// Steps that search_order() tells of, all together.
double search_steps(const SlicingWork& work, const Effort& effort);

SearchAnswer search_order(const SlicingWork& work, const Effort& effort, Steps& steps);

}  // namespace beetwright::campaign
