#include "check/estimate.hpp"

#include <algorithm>
#include <cmath>

#include "base/contract.hpp"

namespace beetwright::check {
namespace {

/// Variance of one beet about the mean.
double beet_variance(const SpotSum& all) {
    const double mean = all.sum / all.n;
    const double about = std::max(0.0, all.sum_squares / all.n - mean * mean);
    return all.n > 1.0 ? about * all.n / (all.n - 1.0) : about;
}

/// Jeffreys' prior: half a beet on either side.
constexpr double kHalfABeet = 0.5;
/// Below this the expansion of Student's t by num::StudentScore is not to be trusted.
constexpr double kLeastFreedom = 3.0;

/// Beets per spot as they weigh in a design effect: the mean of spot sizes weighted by size.
double beets_per_spot(std::span<const SpotSum> spots, double all) {
    double squares = 0.0;
    for (const auto& spot : spots) {
        squares += spot.n * spot.n;
    }
    return squares / all;
}

/// Squared coefficient of variation among the beets that have any of an amount, and the degrees of
/// freedom behind it.
struct AmountSpread {
    double squared_cv;
    double freedom;
};
AmountSpread spread_among_positive(const SpotSum& all, const Catalogue& catalogue) {
    const double usual = catalogue.value(ConstantId::check_amount_cv);
    const double usual_freedom = catalogue.value(ConstantId::check_amount_cv_weight);
    const double seen_freedom = std::max(0.0, all.positive - 1.0);
    const double freedom = seen_freedom + usual_freedom;
    double squares = usual_freedom * usual * usual;
    if (seen_freedom > 0.0) {
        const double mean = all.sum / all.positive;
        squares += std::max(0.0, all.sum_squares - all.positive * mean * mean) / (mean * mean);
    }
    return {squares / freedom, freedom};
}

/// The mean with half a beet of this amount added to those that have some.
num::Uncertain mean_with_half_a_beet(std::span<const SpotSum> spots, const Catalogue& catalogue,
                                     double amount) {
    const SpotSum all = total(spots);
    require(all.n > 0.0, "a mean needs at least one beet");
    require(all.sum <= 0.0 || all.positive > 0.0, "the beets that have some were counted");
    const auto design = design_effect(spots, catalogue);
    const auto spread = spread_among_positive(all, catalogue);
    // The mean is share x amount, so its squared relative error is that of a share, (1 - p) / p,
    // and that of the amount, cv^2 / p, per beet.
    const double share = std::min(1.0, (all.positive + kHalfABeet) / (all.n + 2.0 * kHalfABeet));
    const double relative_variance =
        design.effect * (1.0 - share + spread.squared_cv) / (share * (all.n + 2.0));
    num::Uncertain mean;
    mean.mean = (all.sum + kHalfABeet * amount) / (all.n + 2.0 * kHalfABeet);
    mean.sd = mean.mean * std::sqrt(relative_variance);
    mean.freedom = std::max(kLeastFreedom, 1.0 / (1.0 / design.freedom + 1.0 / spread.freedom));
    return mean;
}

}  // namespace

double variance_between_spots(std::span<const SpotSum> spots) {
    const SpotSum all = total(spots);
    const auto m = static_cast<double>(spots.size());
    const double mean = all.sum / all.n;
    double squares = 0.0;
    for (const auto& spot : spots) {
        const double residual = spot.sum - mean * spot.n;
        squares += residual * residual;
    }
    return m / (m - 1.0) * squares / (all.n * all.n);
}

DesignEffect design_effect(std::span<const SpotSum> spots, const Catalogue& catalogue) {
    const SpotSum all = total(spots);
    const double alikeness = catalogue.value(ConstantId::check_alikeness);
    const double usual = 1.0 + (beets_per_spot(spots, all.n) - 1.0) * alikeness;
    const double usual_freedom = catalogue.value(ConstantId::check_alikeness_freedom);
    const double single = beet_variance(all) / all.n;
    if (spots.size() < 2 || single <= 0.0) {
        return {usual, usual_freedom};
    }
    const double seen = variance_between_spots(spots) / single;
    const double seen_freedom = static_cast<double>(spots.size()) - 1.0;
    const double weight = catalogue.value(ConstantId::check_alikeness_weight);
    const double both = seen_freedom + weight;
    // Beets of a spot are not less alike than beets of different spots: a lower figure is chance.
    const double effect = std::max(1.0, (seen_freedom * seen + weight * usual) / both);
    // Satterthwaite 1946: of a weighted sum of two variances, each with its own degrees of freedom.
    return {effect, both * both / (seen_freedom + weight * weight / usual_freedom)};
}

num::Uncertain mean_of_spots(std::span<const SpotSum> spots, const Catalogue& catalogue) {
    const SpotSum all = total(spots);
    return mean_with_half_a_beet(spots, catalogue,
                                 all.positive > 0.0 ? all.sum / all.positive : 0.0);
}

num::Uncertain mean_of_spots(std::span<const SpotSum> spots, const Catalogue& catalogue,
                             double usual_amount) {
    require(usual_amount > 0.0, "a usual amount is more than nothing");
    return mean_with_half_a_beet(spots, catalogue, usual_amount);
}

num::Uncertain share_of_spots(std::span<const SpotSum> spots, const Catalogue& catalogue) {
    const SpotSum all = total(spots);
    require(all.n > 0.0, "a share needs at least one beet");
    const auto design = design_effect(spots, catalogue);
    const double share = (all.sum + kHalfABeet) / (all.n + 2.0 * kHalfABeet);
    num::Uncertain number;
    number.mean = share;
    number.sd = std::sqrt(design.effect * share * (1.0 - share) / (all.n + 2.0));
    number.freedom = std::max(kLeastFreedom, design.freedom);
    number.support = num::Support::share;
    return number;
}

ShareEstimate share_estimate(std::span<const SpotSum> spots, const Catalogue& catalogue) {
    const SpotSum all = total(spots);
    const num::UncertainQuantile quantile(share_of_spots(spots, catalogue));
    ShareEstimate estimate;
    estimate.beets = all.n;
    estimate.hits = all.sum;
    estimate.spots = static_cast<double>(spots.size());
    estimate.design_effect = design_effect(spots, catalogue).effect;
    const double counted = all.sum / all.n;
    estimate.share = {counted, std::min(counted, quantile.at(-kIntervalZ)),
                      std::max(counted, quantile.at(kIntervalZ))};
    return estimate;
}

ScoreInterval wilson_interval(double hits, double beets, double z) {
    const double share = hits / beets;
    const double z2 = z * z / beets;
    const double centre = (share + 0.5 * z2) / (1.0 + z2);
    const double half =
        z / (1.0 + z2) * std::sqrt(share * (1.0 - share) / beets + 0.25 * z2 / beets);
    return {std::max(0.0, centre - half), std::min(1.0, centre + half)};
}

}  // namespace beetwright::check
