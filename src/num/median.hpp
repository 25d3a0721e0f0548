// The middle of numbers.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

#include "base/contract.hpp"

namespace beetwright::num {

/// The upper one of the two in the middle where they are even in number. The list is not empty, and
/// is left in another order.
inline double median_of(std::vector<double>& list) {
    require(!list.empty(), "a median is that of something");
    const auto middle = list.begin() + static_cast<std::ptrdiff_t>(list.size() / 2);
    std::ranges::nth_element(list, middle);
    return *middle;
}

}  // namespace beetwright::num
