// The smoother: against Kalman's answer where that is exact, and against chance where nothing can
// be learned.
#include "num/ensemble_smoother.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace beetwright::num {
namespace {

std::vector<double> normal_scores(std::size_t scores, std::size_t members, std::uint64_t seed) {
    RandomStream random(seed, "test smoother");
    std::vector<double> all(scores * members);
    for (double& one : all) {
        one = random.normal();
    }
    return all;
}

struct Moments {
    double mean = 0.0, variance = 0.0;
};
Moments moments(const std::vector<double>& scores, std::size_t which, std::size_t members) {
    Moments found;
    for (std::size_t m = 0; m < members; ++m) {
        found.mean += scores[which * members + m] / static_cast<double>(members);
    }
    for (std::size_t m = 0; m < members; ++m) {
        const double apart = scores[which * members + m] - found.mean;
        found.variance += apart * apart / static_cast<double>(members - 1);
    }
    return found;
}

/// All steps on predictions that are linear in two scores: first + 0.5 second, and second, with
/// errors of 1 in what they are told in.
void use_linear(std::vector<double>& scores, std::size_t members,
                std::span<const double> observed) {
    for (std::size_t step = 0; step < kInflations.size(); ++step) {
        std::vector<double> predicted;
        for (std::size_t m = 0; m < members; ++m) {
            predicted.push_back(2.0 * (scores[m] + 0.5 * scores[members + m]));
            predicted.push_back(scores[members + m]);
        }
        smooth(scores,
               {.members = members,
                .predicted = predicted,
                .observed = observed,
                .inflation = kInflations[step]},
               RandomStream(7, "test errors", step));
    }
}

TEST(EnsembleSmoother, StepsAreOneUseOfTheObservations) {
    double sum = 0.0;
    for (const double one : kInflations) {
        sum += 1.0 / one;
    }
    EXPECT_NEAR(sum, 1.0, 1e-15);
}

// Of scores (0, 0) with covariance 1 and observations H s + e, H = (2 1; 0 1), e of covariance 1:
// the precision is 1 + H'H = (5 2; 2 3), its inverse (3 -2; -2 5)/11, and the mean is that times
// H'y. With y = (3, -1): H'y = (6, 2), mean (14/11, -2/11), variances 3/11 and 5/11. Of 3000
// members the mean has a standard error of at most sqrt(5/11/3000) = 0.012, the variance one of 2.6
// %; four steps of random gains double that at the most.
TEST(EnsembleSmoother, IsKalmansAnswerInALinearModel) {
    constexpr std::size_t kMembers = 100;
    double mean_0 = 0.0;
    double mean_1 = 0.0;
    double variance_0 = 0.0;
    double variance_1 = 0.0;
    constexpr int kTimes = 30;
    for (int time = 0; time < kTimes; ++time) {
        auto scores = normal_scores(2, kMembers, 10 + static_cast<std::uint64_t>(time));
        use_linear(scores, kMembers, std::vector{3.0, -1.0});
        const auto first = moments(scores, 0, kMembers);
        const auto second = moments(scores, 1, kMembers);
        mean_0 += first.mean / kTimes;
        mean_1 += second.mean / kTimes;
        variance_0 += first.variance / kTimes;
        variance_1 += second.variance / kTimes;
    }
    EXPECT_NEAR(mean_0, 14.0 / 11.0, 4.0 * 0.024);
    EXPECT_NEAR(mean_1, -2.0 / 11.0, 4.0 * 0.024);
    EXPECT_NEAR(variance_0, 3.0 / 11.0, 4.0 * 0.052 * 3.0 / 11.0);
    EXPECT_NEAR(variance_1, 5.0 / 11.0, 4.0 * 0.052 * 5.0 / 11.0);
}

// What is predicted has nothing to do with 40 further scores: they keep their spread, though 48
// members are few, and their means stay at nought within 4 standard errors of 1/sqrt(40 x 48).
TEST(EnsembleSmoother, WhatIsNotSeenKeepsItsSpread) {
    constexpr std::size_t kMembers = 48;
    constexpr std::size_t kScores = 42;
    auto scores = normal_scores(kScores, kMembers, 5);
    double before = 0.0;
    for (std::size_t i = 2; i < kScores; ++i) {
        before += moments(scores, i, kMembers).variance / (kScores - 2);
    }
    use_linear(scores, kMembers, std::vector{3.0, -1.0});
    double after = 0.0;
    double mean = 0.0;
    for (std::size_t i = 2; i < kScores; ++i) {
        const auto one = moments(scores, i, kMembers);
        after += one.variance / (kScores - 2);
        mean += one.mean / (kScores - 2);
    }
    EXPECT_GT(after, 0.93 * before);
    EXPECT_LT(after, 1.03 * before);
    EXPECT_NEAR(mean, 0.0, 4.0 / std::sqrt(1.0 * (kScores - 2) * kMembers));
}

// Predictions that are the same in all members say nothing of any.
TEST(EnsembleSmoother, WithoutInformationNothingMoves) {
    constexpr std::size_t kMembers = 16;
    auto scores = normal_scores(3, kMembers, 9);
    const auto before = scores;
    smooth(scores,
           {.members = kMembers,
            .predicted = std::vector<double>(2 * kMembers, 4.0),
            .observed = std::vector{9.0, 1.0},
            .inflation = 1.0},
           RandomStream(1, "test errors"));
    EXPECT_EQ(scores, before);
}

}  // namespace
}  // namespace beetwright::num
