#include "ledger/quantiles.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/random.hpp"

namespace beetwright::ledger {
namespace {

// Type 7 of Hyndman and Fan 1996, by sorting everything.
double sorted_quantile(std::vector<double> values, double p) {
    std::ranges::sort(values);
    const double position = p * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::size_t>(position);
    const std::size_t above = std::min(below + 1, values.size() - 1);
    return values[below] +
           (position - static_cast<double>(below)) * (values[above] - values[below]);
}

void expect_same_as_sorting(const std::vector<double>& values) {
    Summariser summarise;
    const Summary summary = summarise(values);
    const double scale = 1e-12 * (1.0 + std::abs(summary.mean));
    EXPECT_NEAR(summary.low, sorted_quantile(values, 0.05), scale);
    EXPECT_NEAR(summary.high, sorted_quantile(values, 0.95), scale);
}

TEST(Quantiles, AgreeWithSortingForBellShapedDraws) {
    RandomStream random(1, "quantiles", "bell");
    std::vector<double> values(1000);
    std::ranges::generate(values, [&] { return 50.0 + 3.0 * random.normal(); });
    expect_same_as_sorting(values);
}

TEST(Quantiles, AgreeWithSortingForVerySkewedDraws) {
    RandomStream random(2, "quantiles", "skewed");
    for (const double shape : {0.05, 0.2, 1.0}) {
        std::vector<double> values(997);
        std::ranges::generate(values, [&] { return random.gamma(shape); });
        expect_same_as_sorting(values);
        std::ranges::for_each(values, [](double& v) { v = -v; });
        expect_same_as_sorting(values);
    }
}

TEST(Quantiles, AgreeWithSortingWhenMostDrawsAreEqual) {
    std::vector<double> values(400, 0.0);
    values[7] = 100.0;
    values[300] = -4.0;
    expect_same_as_sorting(values);
}

TEST(Quantiles, OfEqualDrawsAreTheDraw) {
    Summariser summarise;
    const std::vector<double> values(128, -2.5);
    const Summary summary = summarise(values);
    EXPECT_EQ(summary.mean, -2.5);
    EXPECT_EQ(summary.low, -2.5);
    EXPECT_EQ(summary.high, -2.5);
}

TEST(Quantiles, OfFewDrawsInterpolate) {
    // 0, 10, 20: positions 0.1 and 1.9 between them.
    Summariser summarise;
    const std::vector<double> values{20.0, 0.0, 10.0};
    const Summary summary = summarise(values);
    EXPECT_NEAR(summary.mean, 10.0, 1e-12);
    EXPECT_NEAR(summary.low, 1.0, 1e-12);
    EXPECT_NEAR(summary.high, 19.0, 1e-12);
}

}  // namespace
}  // namespace beetwright::ledger
