// How many more beets to be sure? docs/methods/sample_size.md.
#pragma once

#include "base/catalogue.hpp"
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

/// Beets picked up ten to a spot that prove as much as `beets` picked one by one, in spots.
int spots_of_ten(int beets, const Catalogue& catalogue);

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

/// Where a count stands in the smallest fixed plan: decided as soon as no further beet can turn it.
struct PlanStanding {
    CountingPlan plan;
    Sure sure = Sure::not_yet;
    int more_beets = 0;             ///< to the end of the plan; 0 once it is decided
    int hits_left = 0;              ///< so many more hits may come and it still passes
    double pass_if_fine = 1.0;      ///< chance that it will pass from here if the share is fine
    double pass_if_too_much = 0.0;  ///< and if it is too much
};
PlanStanding where_in_plan(const ShareCount& count, const TwoShares& shares);

/// The boundaries of the running count after `beets`: at most `fine_at_most` hits are surely fine
/// (-1: none can be yet), `too_much_from` or more surely too much.
struct RunningLimits {
    int fine_at_most = -1;
    int too_much_from = 0;
};
RunningLimits running_limits(int beets, double design_effect, const TwoShares& shares);

}  // namespace beetwright::check
