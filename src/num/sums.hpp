// Sums and extremes over the cells of a box: in lanes, and so in a fixed order whatever registers
// the processor has.
#pragma once

#include <span>

#include "num/box.hpp"

namespace beetwright::num {

double sum(const Box& box, std::span<const double> v);
double sum_of_sizes(const Box& box, std::span<const double> v);
/// Of the sizes; what is not a number makes the sum of sizes none either.
struct Greatest {
    double size = 0.0;
    double sum = 0.0;
};
Greatest greatest(const Box& box, std::span<const double> v);

}  // namespace beetwright::num
