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

int beets_for_half_width(double share, double half_width, double z) {
    require(half_width > 0.0, "a half-width is positive");
    return static_cast<int>(
        std::ceil(z * z * share * (1.0 - share) / (half_width * half_width) - 1e-9));
}

RunningCount where_it_stands(const ShareCount& count, const TwoShares& shares) {
    require_order(shares);
    const double if_hit = std::log(shares.too_much / shares.fine);
    const double if_not = std::log((1.0 - shares.too_much) / (1.0 - shares.fine));
    const double evidence =
        (count.hits * if_hit + (count.beets - count.hits) * if_not) / count.design_effect;
    const double upper = std::log((1.0 - shares.miss) / shares.false_alarm);
    const double lower = std::log(shares.miss / (1.0 - shares.false_alarm));

    RunningCount standing;
    standing.meter = std::clamp((evidence - lower) / (upper - lower), 0.0, 1.0);
    if (evidence >= upper) {
        standing.sure = Sure::too_much;
    } else if (evidence <= lower) {
        standing.sure = Sure::fine;
    } else {
        // Wald's approximation: the way left over the mean step.
        const auto step = [&](double share) {
            return (share * if_hit + (1.0 - share) * if_not) / count.design_effect;
        };
        standing.more_if_fine = static_cast<int>(std::ceil((lower - evidence) / step(shares.fine)));
        standing.more_if_too_much =
            static_cast<int>(std::ceil((upper - evidence) / step(shares.too_much)));
    }
    return standing;
}

}  // namespace beetwright::check
