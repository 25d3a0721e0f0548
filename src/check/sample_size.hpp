// How many more beets to be sure? docs/methods/sample_size.md.
#pragma once

#include "check/change.hpp"

namespace beetwright::check {

/// Two shares that one wants told apart: the one that is fine and the one that is not.
struct TwoShares {
    double fine = 0.05;
    double too_much = 0.10;
    double false_alarm = kFalseAlarm;  ///< risk of finding fault where the share is fine
    double miss = kMiss;               ///< risk of passing where it is too much
};

/// A plan of a fixed number of beets: find fault when more than `most_hits` of `beets` are hits.
struct CountingPlan {
    int beets = 0;
    int most_hits = 0;
};

/// The smallest plan that keeps both risks, exactly by the binomial distribution; times the design
/// effect for beets from spots. 0 < fine < too_much < 1.
CountingPlan smallest_plan(const TwoShares& shares, double design_effect);

/// Beets for an interval of share +- half_width at the standard normal score z: z^2 p (1 - p) /
/// half_width^2.
int beets_for_half_width(double share, double half_width, double z);

enum class Sure { fine, too_much, not_yet };

/// Where a running count stands (Wald's sequential probability ratio test, 1945).
struct RunningCount {
    Sure sure = Sure::not_yet;
    /// From 0 (surely fine) through 0.5 (nothing known) to 1 (surely too much); for a meter.
    double meter = 0.5;
    /// Further beets, on average, until one is sure: if the share is fine, and if it is too much.
    int more_if_fine = 0;
    int more_if_too_much = 0;
};
RunningCount where_it_stands(const ShareCount& count, const TwoShares& shares);

}  // namespace beetwright::check
