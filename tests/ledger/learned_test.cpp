#include "ledger/learned.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "base/estimate.hpp"
#include "base/random.hpp"

namespace beetwright::ledger {
namespace {

using num::Uncertain;

TEST(Learned, NeedsEnoughFields) {
    const std::vector<Uncertain> two{{0.1, 0.01}, {0.2, 0.01}};
    EXPECT_FALSE(predict_another(two, 3).has_value());
    EXPECT_TRUE(predict_another(two, 2).has_value());
}

TEST(Learned, OfEqualFieldsHasNoSpreadBetweenThem) {
    // Equal means: nothing between fields; the error of the mean is 0.02 / sqrt(4).
    const std::vector<Uncertain> four(4, Uncertain{0.10, 0.02});
    const auto next = predict_another(four, 3);
    ASSERT_TRUE(next);
    EXPECT_NEAR(next->mean, 0.10, 1e-12);
    EXPECT_NEAR(next->sd, 0.01, 1e-12);
    // Nothing between them, so (4 - 1) (0.01^2 / 0.02^2)^2 is under the least, 3.
    EXPECT_EQ(next->freedom, 3.0);
}

TEST(Learned, FollowsTheWorkedFormula) {
    // Three fields with equal errors s = 0.1: means 1, 2, 3. Weights 100, so Q = 100 (1 + 0 + 1) =
    // 200, spare = 300 - 30000/300 = 200, between = (200 - 2)/200 = 0.99; each weight is then
    // 1/(0.01+0.99) = 1, so the mean is 2 with variance 1/3, and another field spreads by sqrt(0.99
    // + 1/3).
    const std::vector<Uncertain> three{{1.0, 0.1}, {2.0, 0.1}, {3.0, 0.1}};
    const auto next = predict_another(three, 3);
    ASSERT_TRUE(next);
    EXPECT_NEAR(next->mean, 2.0, 1e-12);
    EXPECT_NEAR(next->sd, std::sqrt(0.99 + 1.0 / 3.0), 1e-12);
}

TEST(Learned, CoversTheNextField) {
    // 12 fields about a common mean; how often does the next one lie in the 90 % interval?
    // 4,000 trials: binomial standard error 0.47 %, so 88-92 % is 4 of them.
    int inside = 0;
    constexpr int kTrials = 4000;
    for (int trial = 0; trial < kTrials; ++trial) {
        RandomStream random(3, "learned coverage", static_cast<std::uint64_t>(trial));
        std::vector<Uncertain> fields;
        for (int f = 0; f < 12; ++f) {
            const double truth = 1.0 + 0.15 * random.normal();
            fields.push_back({truth + 0.1 * random.normal(), 0.1, 1e9, num::Support::any});
        }
        const double next = 1.0 + 0.15 * random.normal();
        const auto predicted = predict_another(fields, 3);
        ASSERT_TRUE(predicted);
        const num::UncertainQuantile quantile(*predicted);
        inside += quantile.at(-kIntervalZ) <= next && next <= quantile.at(kIntervalZ) ? 1 : 0;
    }
    const double coverage = static_cast<double>(inside) / kTrials;
    EXPECT_GT(coverage, 0.88);
    EXPECT_LT(coverage, 0.92);
}

TEST(Learned, OfNothingButZerosIsZero) {
    const std::vector<Uncertain> zeros(3, Uncertain{0.0, 0.0});
    const auto next = predict_another(zeros, 3);
    ASSERT_TRUE(next);
    EXPECT_EQ(next->mean, 0.0);
    EXPECT_EQ(next->sd, 0.0);
}

}  // namespace
}  // namespace beetwright::ledger
