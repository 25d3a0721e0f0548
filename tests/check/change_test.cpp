#include "check/change.hpp"

#include <gtest/gtest.h>

#include <string>

#include "base/random.hpp"
#include "check/sample_size.hpp"
#include "check/scheme.hpp"
#include "num/distributions.hpp"
#include "oracle.hpp"

namespace beetwright::check {
namespace {

const Oracle& r() {
    static const Oracle oracle("check");
    return oracle;
}

bool says(const std::string& text, const char* words) {
    return text.find(words) != std::string::npos;
}

TEST(Change, ThreeInTwentyAfterOneInTwentyProvesNothing) {
    const ShareCount before{1, 20, 1.0};
    const ShareCount now{3, 20, 1.0};
    const auto answer = compare(before, now);
    EXPECT_EQ(answer.verdict, Change::none_shown);
    EXPECT_NEAR(answer.chance_if_unchanged, r().at("fisher mid 1 20 3 20"), 1e-12);
    EXPECT_GT(answer.chance_of_missing, 0.6);
    // R's power.prop.test asks for 153; it does not pool the variance quite as we do.
    EXPECT_NEAR(answer.beets_each_to_tell, r().at("power n 0.05 0.15"), 2.0);
    const auto text = words(answer, before, now);
    EXPECT_TRUE(says(text, "no evidence of change")) << text;
    EXPECT_TRUE(says(text, std::to_string(answer.beets_each_to_tell).c_str())) << text;
}

TEST(Change, ExactTestAgreesWithR) {
    EXPECT_NEAR(compare({5, 100}, {15, 100}).chance_if_unchanged, r().at("fisher mid 5 100 15 100"),
                1e-12);
    EXPECT_NEAR(compare({10, 100}, {12, 100}).chance_if_unchanged,
                r().at("fisher mid 10 100 12 100"), 1e-12);
    EXPECT_NEAR(compare({0, 50}, {6, 50}).chance_if_unchanged, r().at("fisher mid 0 50 6 50"),
                1e-12);
}

TEST(Change, IsSymmetricInTheTwoChecks) {
    const auto up = compare({5, 100}, {15, 100});
    const auto down = compare({15, 100}, {5, 100});
    EXPECT_EQ(up.verdict, Change::rise);
    EXPECT_EQ(down.verdict, Change::fall);
    EXPECT_NEAR(up.chance_of_rise, 1.0 - down.chance_of_rise, 1e-3);
    EXPECT_EQ(up.beets_each_to_tell, down.beets_each_to_tell);
}

TEST(Change, BeetsFromSpotsProveLess) {
    const auto single = compare({5, 100, 1.0}, {12, 100, 1.0});
    const auto spots = compare({5, 100, 1.6}, {12, 100, 1.6});
    EXPECT_GT(spots.chance_if_unchanged, single.chance_if_unchanged);
    EXPECT_NEAR(spots.beets_each_to_tell, 1.6 * single.beets_each_to_tell, 1.0);
}

// A false alarm about one time in ten, never much oftener: 4,000 pairs of checks of 100 beets, 10 %
// each; binomial standard error 0.47 %. Discreteness keeps the mid-p test a little below its level.
// Seed 40.
TEST(Change, CriesWolfNoOftenerThanItSays) {
    int alarms = 0;
    for (std::uint64_t trial = 0; trial < 4000; ++trial) {
        RandomStream random(40, "false alarms", trial);
        const auto count = [&] {
            ShareCount one{0, 100, 1.0};
            for (int b = 0; b < one.beets; ++b) {
                one.hits += random.chance(0.10) ? 1 : 0;
            }
            return one;
        };
        const auto before = count();
        const auto now = count();
        // Only the test is needed here; compare() works out much more.
        alarms += compare(before, now).verdict == Change::none_shown ? 0 : 1;
    }
    EXPECT_LT(alarms / 4000.0, 0.115);
    EXPECT_GT(alarms / 4000.0, 0.06);
}

TEST(Change, WithThePlannedBeetsItIsMissedOneTimeInTen) {
    const int n = compare({1, 20}, {3, 20}).beets_each_to_tell;
    int missed = 0;
    constexpr int kTrials = 1500;  // binomial standard error 0.8 %
    for (std::uint64_t trial = 0; trial < kTrials; ++trial) {
        RandomStream random(41, "misses", trial);
        ShareCount before{0, n, 1.0};
        ShareCount now{0, n, 1.0};
        for (int b = 0; b < n; ++b) {
            before.hits += random.chance(0.05) ? 1 : 0;
            now.hits += random.chance(0.15) ? 1 : 0;
        }
        missed += compare(before, now).verdict == Change::rise ? 0 : 1;
    }
    EXPECT_NEAR(static_cast<double>(missed) / kTrials, 0.10, 0.03);
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

// harvest.md 1.2 [D, binomial] of the Rhineland scheme, Moll 2006 [V].
TEST(Scheme, OperatingCharacteristicOfTwoInTen) {
    constexpr std::pair<double, double> rows[] = {{0.05, 98.8}, {0.10, 93.0}, {0.15, 82.0},
                                                  {0.20, 67.8}, {0.25, 52.6}, {0.30, 38.3},
                                                  {0.40, 16.7}};
    for (const auto& [share, percent] : rows) {
        EXPECT_NEAR(100.0 * acceptance(10, 2, share, 0.0), percent, 0.051) << share;
    }
}

TEST(Scheme, OperatingCharacteristicOfTwentyInAHundred) {
    constexpr std::pair<double, double> rows[] = {
        {0.15, 93.4}, {0.20, 55.9}, {0.25, 14.9}, {0.30, 1.6}};
    for (const auto& [share, percent] : rows) {
        EXPECT_NEAR(100.0 * acceptance(100, 20, share, 0.0), percent, 0.051) << share;
    }
}

TEST(Scheme, AlikeBeetsBlurIt) {
    // Spots that are alike within pass bad fields oftener and good ones less often.
    EXPECT_LT(acceptance(10, 2, 0.10, 0.15), acceptance(10, 2, 0.10, 0.0));
    EXPECT_GT(acceptance(10, 2, 0.40, 0.15), acceptance(10, 2, 0.40, 0.0));
}

TEST(Scheme, JudgesOnlyWhatTheCountSettles) {
    const Catalogue catalogue;
    const auto spots = [](int hits_each) {
        return std::vector<SpotSum>(
            10, SpotSum{10, static_cast<double>(hits_each), static_cast<double>(hits_each)});
    };
    EXPECT_EQ(judge(spots(0), 0.05, catalogue).verdict, Verdict::met);
    EXPECT_EQ(judge(spots(3), 0.05, catalogue).verdict, Verdict::missed);
    // 100 beets cannot prove a target of 5 % when 5 were found.
    std::vector<SpotSum> five = spots(0);
    for (std::size_t i = 0; i < 5; ++i) {
        five[i] = {10, 1, 1};
    }
    EXPECT_EQ(judge(five, 0.05, catalogue).verdict, Verdict::not_settled);
}

}  // namespace
}  // namespace beetwright::check
