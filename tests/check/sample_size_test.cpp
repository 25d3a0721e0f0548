#include "check/sample_size.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/random.hpp"
#include "num/distributions.hpp"
#include "oracle.hpp"

namespace beetwright::check {
namespace {

const Oracle& r() {
    static const Oracle oracle("check");
    return oracle;
}

// harvest.md 5 [D] and R: beets for a half-width at 95 %.
TEST(SampleSize, ForAHalfWidth) {
    constexpr double kZ95 = 1.959963984540054;
    EXPECT_EQ(beets_for_half_width(0.10, 0.05, kZ95), r().at("n 0.10 0.05"));
    EXPECT_EQ(beets_for_half_width(0.15, 0.05, kZ95), r().at("n 0.15 0.05"));
    EXPECT_EQ(beets_for_half_width(0.20, 0.05, kZ95), r().at("n 0.20 0.05"));
    EXPECT_EQ(beets_for_half_width(0.05, 0.03, kZ95), r().at("n 0.05 0.03"));
}

TEST(SampleSize, SmallestPlanOfFiveAgainstTenPerCentAgreesWithR) {
    const auto plan = smallest_plan({}, 1.0);
    EXPECT_EQ(plan.beets, r().at("plan n"));
    EXPECT_EQ(plan.most_hits, r().at("plan most"));
    // And it keeps both risks.
    EXPECT_LE(1.0 - num::binomial_cdf(plan.most_hits, plan.beets, 0.05), 0.10);
    EXPECT_LE(num::binomial_cdf(plan.most_hits, plan.beets, 0.10), 0.10);
}

TEST(SampleSize, ARunningCountDecidesRightAndSooner) {
    // Wald 1945: both risks hold, and fewer beets are needed on average than by the fixed plan
    // (187).
    for (const double truth : {0.05, 0.10}) {
        int wrong = 0;
        double beets = 0.0;
        constexpr int kTrials = 1000;
        for (std::uint64_t trial = 0; trial < kTrials; ++trial) {
            RandomStream random(42, "running", trial);
            ShareCount count{0, 0, 1.0};
            RunningCount standing;
            while (standing.sure == Sure::not_yet) {
                ++count.beets;
                count.hits += random.chance(truth) ? 1 : 0;
                standing = where_it_stands(count, {});
            }
            beets += count.beets;
            wrong += (standing.sure == Sure::fine) == (truth > 0.07) ? 1 : 0;
        }
        EXPECT_LT(wrong / 1000.0, 0.12) << truth;  // risk 0.10, standard error 0.0095
        EXPECT_LT(beets / kTrials, 150.0) << truth;
    }
}

// A plan of beets from spots keeps both risks about as well: beets alike with 0.06, ten to a spot,
// design effect 1.54. 2,000 fields each; binomial standard error 0.7 %. Seed 44.
TEST(SampleSize, APlanOfBeetsFromSpotsKeepsItsRisks) {
    const TwoShares shares;
    const auto plan = smallest_plan(shares, 1.54);
    EXPECT_EQ(plan.beets, 288);  // 187 x 1.54
    for (const double truth : {shares.fine, shares.too_much}) {
        int wrong = 0;
        for (std::uint64_t trial = 0; trial < 2000; ++trial) {
            RandomStream random(44, "plans", trial);
            int hits = 0;
            const double size = 1.0 / 0.06 - 1.0;
            double share = 0.0;
            for (int b = 0; b < plan.beets; ++b) {
                if (b % 10 == 0) {
                    share = random.beta(truth * size, (1.0 - truth) * size);
                }
                hits += random.chance(share) ? 1 : 0;
            }
            wrong += (hits <= plan.most_hits) == (truth == shares.too_much) ? 1 : 0;
        }
        EXPECT_LT(wrong / 2000.0, 0.12) << truth;
    }
}

TEST(SampleSize, SpotsOfTenForAsManySingleBeets) {
    const Catalogue catalogue;
    const double effect = 1.0 + 9.0 * catalogue.value(ConstantId::check_alikeness);
    EXPECT_EQ(spots_of_ten(100, catalogue), static_cast<int>(std::ceil(10.0 * effect)));
}

// The plan of 5 % against 10 % is 187 beets with at most 13 hits. From 100 beets and 6 hits, 87 are
// left, of which 7 may be hits; the chances of that are binomial.
TEST(SampleSize, APlanGoesOnFromWhereOneStands) {
    const auto standing = where_in_plan({6, 100, 1.0}, {});
    EXPECT_EQ(standing.sure, Sure::not_yet);
    EXPECT_EQ(standing.more_beets, 87);
    EXPECT_EQ(standing.hits_left, 7);
    EXPECT_NEAR(standing.pass_if_fine, num::binomial_cdf(7, 87, 0.05), 1e-12);
    EXPECT_NEAR(standing.pass_if_too_much, num::binomial_cdf(7, 87, 0.10), 1e-12);
}

TEST(SampleSize, APlanStopsAsSoonAsNothingCanTurnIt) {
    EXPECT_EQ(where_in_plan({14, 60, 1.0}, {}).sure, Sure::too_much);
    EXPECT_EQ(where_in_plan({2, 176, 1.0}, {}).sure, Sure::fine);  // 11 left, 11 may be hits
    EXPECT_EQ(where_in_plan({2, 175, 1.0}, {}).sure, Sure::not_yet);
    EXPECT_EQ(where_in_plan({14, 60, 1.0}, {}).more_beets, 0);
}

// The limits are where the running count ends, neither a hit before nor after.
TEST(SampleSize, RunningLimitsAreWhereTheRunningCountEnds) {
    for (const double effect : {1.0, 1.54}) {
        for (const int beets : {20, 60, 120, 200}) {
            const auto limits = running_limits(beets, effect, {});
            const auto sure = [&](int hits) {
                return where_it_stands({hits, beets, effect}, {}).sure;
            };
            if (limits.fine_at_most >= 0) {
                EXPECT_EQ(sure(limits.fine_at_most), Sure::fine);
            }
            EXPECT_EQ(sure(limits.fine_at_most + 1), Sure::not_yet);
            if (limits.too_much_from <= beets) {
                EXPECT_EQ(sure(limits.too_much_from), Sure::too_much);
            }
            EXPECT_EQ(sure(limits.too_much_from - 1), Sure::not_yet);
        }
    }
    // Wald 1945, 5 % against 10 % with risks of 0.1: ln(1/9) = -2.197; per hit ln 2 - ln(0.9 /
    // 0.95) = 0.693 + 0.054 = 0.747; after 100 beets -2.197 + 5.407 = 3.210, / 0.747 = 4.30; and
    // 2.197 + 5.407 = 7.604 / 0.747 = 10.18.
    const auto limits = running_limits(100, 1.0, {});
    EXPECT_EQ(limits.fine_at_most, 4);
    EXPECT_EQ(limits.too_much_from, 11);
}

}  // namespace
}  // namespace beetwright::check
