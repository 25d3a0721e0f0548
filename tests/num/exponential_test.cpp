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

// Against the library's, through a few hundred powers of ten.
TEST(Exponential, LogarithmIsTheLibrarys) {
    for (int n = -8000; n <= 8000; ++n) {
        const double x = std::pow(10.0, 0.0371 * n);
        EXPECT_NEAR(logarithm(x), std::log(x), 4e-16 * std::max(1.0, std::abs(std::log(x)))) << x;
    }
    EXPECT_EQ(logarithm(1.0), 0.0);
}

}  // namespace
}  // namespace beetwright::num
