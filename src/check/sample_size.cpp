#include "check/sample_size.hpp"

#include <algorithm>
#include <cmath>

#include "base/contract.hpp"
#include "num/distributions.hpp"

namespace beetwright::check {
namespace {

constexpr int kMostBeets = 100'000;

void require_order(const TwoShares& shares) {
    require(shares.fine > 0.0 && shares.fine < shares.too_much && shares.too_much < 1.0,
            "the fine share is below the one that is too much");
}

/// The most hits at which n beets still pass: P(more | fine) <= false alarm.
int most_hits_of(int n, const TwoShares& shares, int start) {
    int most = start;
    while (most < n && 1.0 - num::binomial_cdf(most, n, shares.fine) > shares.false_alarm) {
        ++most;
    }
    return most;
}

/// Wald's test: what a hit and a miss add to the evidence, and where it ends.
struct RunningTest {
    double if_hit;
    double if_not;
    double lower;
    double upper;
};
RunningTest running_test(const TwoShares& shares) {
    require_order(shares);
    return {std::log(shares.too_much / shares.fine),
            std::log((1.0 - shares.too_much) / (1.0 - shares.fine)),
            std::log(shares.miss / (1.0 - shares.false_alarm)),
            std::log((1.0 - shares.miss) / shares.false_alarm)};
}

}  // namespace

CountingPlan smallest_plan(const TwoShares& shares, double design_effect) {
    require_order(shares);
    int most = 0;
    for (int n = 1; n <= kMostBeets; ++n) {
        most = most_hits_of(n, shares, most);
        if (num::binomial_cdf(most, n, shares.too_much) <= shares.miss) {
            const double scaled = std::ceil(n * design_effect - 1e-9);
            const double share = (most + 0.5) / n;
            return {static_cast<int>(scaled), static_cast<int>(share * scaled)};
        }
    }
    return {};
}

int spots_of_ten(int beets, const Catalogue& catalogue) {
    constexpr double kTen = 10.0;
    const double effect = 1.0 + (kTen - 1.0) * catalogue.value(ConstantId::check_alikeness);
    return static_cast<int>(std::ceil(beets * effect / kTen - 1e-9));
}

int beets_for_half_width(double share, double half_width, double z) {
    require(half_width > 0.0, "a half-width is positive");
    return static_cast<int>(
        std::ceil(z * z * share * (1.0 - share) / (half_width * half_width) - 1e-9));
}

RunningCount where_it_stands(const ShareCount& count, const TwoShares& shares) {
    const auto [if_hit, if_not, lower, upper] = running_test(shares);
    const double evidence =
        (count.hits * if_hit + (count.beets - count.hits) * if_not) / count.design_effect;

    RunningCount standing;
    standing.meter = std::clamp((evidence - lower) / (upper - lower), 0.0, 1.0);
    if (evidence >= upper) {
        standing.sure = Sure::too_much;
    } else if (evidence <= lower) {
        standing.sure = Sure::fine;
    } else {
        // Wald's approximation: the way left over the mean step.
        const auto step = [&, hit = if_hit, miss = if_not](double share) {
            return (share * hit + (1.0 - share) * miss) / count.design_effect;
        };
        standing.more_if_fine = static_cast<int>(std::ceil((lower - evidence) / step(shares.fine)));
        standing.more_if_too_much =
            static_cast<int>(std::ceil((upper - evidence) / step(shares.too_much)));
    }
    return standing;
}

PlanStanding where_in_plan(const ShareCount& count, const TwoShares& shares) {
    require(count.beets >= 0 && count.hits >= 0 && count.hits <= count.beets,
            "hits are among the beets judged");
    PlanStanding standing;
    standing.plan = smallest_plan(shares, count.design_effect);
    const int left = std::max(0, standing.plan.beets - count.beets);
    const int hits_left = standing.plan.most_hits - count.hits;
    if (hits_left < 0) {
        standing.sure = Sure::too_much;
        standing.pass_if_fine = 0.0;
        return standing;
    }
    standing.hits_left = hits_left;
    if (hits_left >= left) {
        standing.sure = Sure::fine;
        standing.pass_if_too_much = 1.0;
        return standing;
    }
    standing.more_beets = left;
    // The remaining beets weigh as few as single ones, like those of the plan itself.
    const int single = std::max(1, static_cast<int>(std::lround(left / count.design_effect)));
    const int single_hits =
        std::min(single, static_cast<int>(std::floor(hits_left / count.design_effect + 1e-9)));
    standing.pass_if_fine = num::binomial_cdf(single_hits, single, shares.fine);
    standing.pass_if_too_much = num::binomial_cdf(single_hits, single, shares.too_much);
    return standing;
}

RunningLimits running_limits(int beets, double design_effect, const TwoShares& shares) {
    require(beets >= 0 && design_effect >= 1.0, "beets counted, worth no more than single ones");
    const auto [if_hit, if_not, lower, upper] = running_test(shares);
    // hits if_hit + (beets - hits) if_not against the ends, solved for hits.
    const double per_hit = if_hit - if_not;
    const double most = (lower * design_effect - beets * if_not) / per_hit;
    const double least = (upper * design_effect - beets * if_not) / per_hit;
    return {std::max(-1, static_cast<int>(std::floor(most + 1e-9))),
            static_cast<int>(std::ceil(least - 1e-9))};
}

}  // namespace beetwright::check
