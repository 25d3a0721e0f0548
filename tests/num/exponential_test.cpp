#include "num/exponential.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace beetwright::num {
namespace {

// Against the library's, which is good to one unit in the last place.
TEST(Exponential, AgreesWithTheLibrarys) {
    for (int i = -70'000; i <= 70'000; ++i) {
        const double x = 0.01 * i + 1e-5 * (i % 7);
        const double truth = std::exp(x);
        ASSERT_NEAR(exponential(x), truth, 7e-16 * truth) << x;
    }
    EXPECT_EQ(exponential(0.0), 1.0);
}

}  // namespace
}  // namespace beetwright::num
