// An order looked through by somebody who knows nothing of the search: day by day, as a slicer
// would keep its book.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "campaign/slicing_order.hpp"

namespace beetwright::campaign {

struct CheckedPart {
    Day first_day{};
    Day last_day{};
    std::vector<double> worth_money;  ///< by member
};

struct CheckedOrder {
    std::vector<CheckedPart> parts;  ///< in the order
    std::size_t loader_moves = 0;
    std::vector<double> worth_money;  ///< by member, less the loader's moves
    double mean_money = 0.0;
};

/// Slices the parts in this order. Problems, each by pile and part: a part that there is not, that
/// comes twice or never; one that the loader cannot get at; one before or after its days; one that
/// the slicer does not get to. Of a question whose numbers are in order.
Result<CheckedOrder> check_slicing_order(const SlicingQuestion& question,
                                         std::span<const PartPlace> order);

}  // namespace beetwright::campaign
