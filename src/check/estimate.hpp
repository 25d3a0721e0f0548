// Shares and means over a field from beets counted in spots, with intervals that respect the spots.
// docs/methods/estimate.md.
#pragma once

#include <span>

#include "base/catalogue.hpp"
#include "base/estimate.hpp"
#include "check/tally.hpp"
#include "num/uncertain.hpp"

namespace beetwright::check {

/// How much a sample of spots proves against as many beets picked one by one.
struct DesignEffect {
    double effect = 1.0;   ///< variance of the mean over that of single beets
    double freedom = 1.0;  ///< degrees of freedom behind it
};

/// The design effect seen between these spots, blended with the catalogue's usual one
/// (check.alikeness) by degrees of freedom: few spots say little about how alike their beets are.
DesignEffect design_effect(std::span<const SpotSum> spots, const Catalogue& catalogue);

/// The variance of the ratio mean (sum of sums / sum of beets) between spots, linearised:
/// m/(m-1) sum (s_i - r n_i)^2 / (sum n_i)^2, as survey packages have it. NaN for one spot.
double variance_between_spots(std::span<const SpotSum> spots);

/// The mean of an amount that is not negative, per beet: the share of beets that have any of it
/// times the mean of those. Half a beet of the mean amount is added to those that have some, and
/// their spread is blended with the usual one (check.amount_cv): a few large beets make both, and
/// are easily missed. Spots must come from SpotSum::add.
///
/// If no beet had any, this says nothing of how much there may be, and the answer is a certain
/// nothing; give `usual_amount` where it is known.
num::Uncertain mean_of_spots(std::span<const SpotSum> spots, const Catalogue& catalogue);

/// The same where a beet that has any usually has `usual_amount`, more than nothing: the half beet
/// that is added has that much, so that nothing on twenty beets is not taken for never.
num::Uncertain mean_of_spots(std::span<const SpotSum> spots, const Catalogue& catalogue,
                             double usual_amount);

/// The share of beets of which something is true (sums of zeros and ones). Half a beet is added to
/// either side (Jeffreys' prior, Beta(1/2, 1/2)), so that none of twenty is not taken for never.
num::Uncertain share_of_spots(std::span<const SpotSum> spots, const Catalogue& catalogue);

/// A share as people are shown it: as counted, with the interval that the ledger draws from, so
/// that a page and the ledger never disagree.
struct ShareEstimate {
    Estimate<double> share;
    double beets = 0.0;
    double hits = 0.0;
    double spots = 0.0;
    double design_effect = 1.0;
    /// As many beets picked one by one would prove as much.
    [[nodiscard]] double effective_beets() const { return beets / design_effect; }
};
ShareEstimate share_estimate(std::span<const SpotSum> spots, const Catalogue& catalogue);

/// Wilson's score interval for x of n at the standard normal score z (Wilson 1927).
struct ScoreInterval {
    double low = 0.0;
    double high = 1.0;
};
ScoreInterval wilson_interval(double hits, double beets, double z);

}  // namespace beetwright::check
