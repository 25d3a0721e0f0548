// Sums in lanes, against plain ones.
#include "num/sums.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/random.hpp"

namespace beetwright::num {
namespace {

// Whatever the number of cells leaves over beside whole lanes; what stands beside the box does not
// count.
TEST(Sums, ArePlainOnes) {
    RandomStream random(5, "sums");
    for (const std::size_t up : {1U, 3U, 7U, 8U, 9U, 26U}) {
        const Box box{.across = 5, .along = 1, .up = up};
        Field field = box.field(1e6);
        double plain = 0.0;
        double sizes = 0.0;
        double most = 0.0;
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            field[i] = random.normal();
            plain += field[i];
            sizes += std::abs(field[i]);
            most = std::max(most, std::abs(field[i]));
        }
        EXPECT_NEAR(sum(box, field), plain, 1e-12 * sizes);
        EXPECT_NEAR(sum_of_sizes(box, field), sizes, 1e-12 * sizes);
        EXPECT_EQ(greatest(box, field).size, most);
    }
}

// A maximum alone would pass over it.
TEST(Sums, WhatIsNoNumberIsSeen) {
    const Box box{.across = 4, .along = 1, .up = 5};
    Field field = box.field(1.0);
    field[box.begin() + 11] = std::nan("");
    EXPECT_FALSE(std::isfinite(greatest(box, field).sum));
}

}  // namespace
}  // namespace beetwright::num
