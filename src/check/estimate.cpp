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

/// Beets per spot as they weigh in a design effect: the mean of spot sizes weighted by size.
double beets_per_spot(std::span<const SpotSum> spots, double all) {
    double squares = 0.0;
    for (const auto& spot : spots) {
        squares += spot.n * spot.n;
    }
    return squares / all;
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
    const double usual_freedom = catalogue.value(ConstantId::check_alikeness_weight);
    const double single = beet_variance(all) / all.n;
    if (spots.size() < 2 || single <= 0.0) {
        return {usual, usual_freedom};
    }
    const double seen = variance_between_spots(spots) / single;
    const double seen_freedom = static_cast<double>(spots.size()) - 1.0;
    const double freedom = seen_freedom + usual_freedom;
    // Beets of a spot are not less alike than beets of different spots: a lower figure is chance.
    return {std::max(1.0, (seen_freedom * seen + usual_freedom * usual) / freedom), freedom};
}

num::Uncertain mean_of_spots(std::span<const SpotSum> spots, const Catalogue& catalogue) {
    const SpotSum all = total(spots);
    require(all.n > 0.0, "a mean needs at least one beet");
    const auto design = design_effect(spots, catalogue);
    const double variance = design.effect * beet_variance(all) / all.n;
    num::Uncertain mean;
    mean.mean = all.sum / all.n;
    mean.sd = std::sqrt(variance);
    // One or two beets have no variance of their own to speak of.
    mean.freedom = std::clamp(std::min(design.freedom, all.n - 1.0), 1.0, 1e9);
    if (all.n < 2.0) {
        mean.sd = mean.mean;
    }
    return mean;
}

num::Uncertain share_of_spots(std::span<const SpotSum> spots, const Catalogue& catalogue) {
    const SpotSum all = total(spots);
    require(all.n > 0.0, "a share needs at least one beet");
    const auto design = design_effect(spots, catalogue);
    const double share = (all.sum + 0.5) / (all.n + 1.0);
    num::Uncertain number;
    number.mean = share;
    number.sd = std::sqrt(design.effect * share * (1.0 - share) / (all.n + 2.0));
    number.freedom = std::max(1.0, design.freedom);
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
    estimate.share = {all.sum / all.n, quantile.at(-kIntervalZ),
                      std::min(1.0, quantile.at(kIntervalZ))};
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
