#include "engine/probe_faults.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/number_text.hpp"
#include "base/sorted.hpp"
#include "num/cholesky.hpp"

namespace beetwright::engine {
namespace {

double to_celsius(double fahrenheit) {
    return (fahrenheit - 32.0) / 1.8;
}
double to_fahrenheit(double celsius) {
    return 1.8 * celsius + 32.0;
}

std::string degrees(double celsius) {
    return general_text(std::round(10.0 * celsius) / 10.0, 3) + " °C";
}

/// The same number on four days or more, where nearly every member moves by half a degree.
std::optional<ProbeVerdict> stuck(const ProbePlace& place, const PredictedPlace& predicted) {
    constexpr double kSame_K = 0.06;
    constexpr double kMoves_K = 0.5;
    constexpr std::size_t kLeast = 4;
    constexpr std::chrono::hours kSpan{72};
    // From the last reading back: a logger may have died half way.
    std::size_t first = place.celsius.size() - 1;
    while (first > 0 && std::abs(place.celsius[first - 1] - place.celsius.back()) < kSame_K) {
        --first;
    }
    const std::size_t count = place.celsius.size() - first;
    if (count < kLeast || place.at.back() - place.at[first] < kSpan) {
        return std::nullopt;
    }
    std::size_t moving = 0;
    for (std::size_t m = 0; m < predicted.members; ++m) {
        const auto [least, most] = std::ranges::minmax(predicted.of(m).subspan(first));
        moving += most - least > kMoves_K ? 1U : 0U;
    }
    if (10 * moving < 9 * predicted.members) {
        return std::nullopt;
    }
    return ProbeVerdict{.fault = ProbeFault::stuck,
                        .why = "it has said " + degrees(place.celsius.back()) + " " +
                               std::to_string(count) +
                               " times in a row, and beets there cannot have stayed as warm: look "
                               "at its battery and its cable"};
}

/// Steps between two readings within two days that are greater than any member makes, by far.
std::optional<ProbeVerdict> jumping(const ProbePlace& place, const PredictedPlace& predicted) {
    constexpr double kBeyond_K = 4.0;
    constexpr double kShare = 0.15;
    constexpr std::chrono::hours kNear{48};
    std::size_t steps = 0;
    std::size_t jumps = 0;
    double greatest = 0.0;
    for (std::size_t i = 1; i < place.celsius.size(); ++i) {
        if (place.at[i] - place.at[i - 1] > kNear) {
            continue;
        }
        std::vector<double> of_members;
        for (std::size_t m = 0; m < predicted.members; ++m) {
            of_members.push_back(std::abs(predicted.of(m)[i] - predicted.of(m)[i - 1]));
        }
        std::ranges::sort(of_members);
        // Members that run away move fast: not the greatest, but that which one in ten exceeds.
        const double usual = of_members[9 * of_members.size() / 10];
        const double step = std::abs(place.celsius[i] - place.celsius[i - 1]);
        ++steps;
        if (step > usual + kBeyond_K) {
            ++jumps;
            greatest = std::max(greatest, step);
        }
    }
    // There and back again are two.
    if (jumps < 2 || static_cast<double>(jumps) < kShare * static_cast<double>(steps)) {
        return std::nullopt;
    }
    return ProbeVerdict{.fault = ProbeFault::jumping,
                        .why = "it jumps by up to " +
                               general_text(std::round(10.0 * greatest) / 10.0, 3) +
                               " K from one reading to the next, which no pile does: look at its "
                               "cable and its plug"};
}

/// All windows of some places as one vector of observations with their errors' covariance.
class Windows {
 public:
    Windows(std::span<const ProbePlace> places, std::span<const PredictedPlace> predicted,
            const Catalogue& catalogue)
        : places_(places), predicted_(predicted), catalogue_(catalogue) {}

    /// What is expected of one place's mean by readings of the others, and the spread of that
    /// with the place's own error: the half of the members that fits the others best, taken for
    /// normal, with its covariances. Runaway and well-kept piles are no one normal.
    [[nodiscard]] std::pair<double, double> expected(std::size_t which,
                                                     const std::vector<std::size_t>& others) const {
        const auto members = best_for(others, predicted_[which].members);
        const auto own = anomalies(which, members);
        double mean = own.mean;
        double variance = covariance(own.apart, own.apart);
        const double error = mean_error_variance(which);
        // The others by their means: that is where they disagree, if they do.
        const std::size_t n = others.size();
        std::vector<double> matrix(n * n);
        std::vector<double> together(n);
        std::vector<Anomalies> of;
        for (const std::size_t other : others) {
            of.push_back(anomalies(other, members));
        }
        for (std::size_t a = 0; a < n; ++a) {
            for (std::size_t b = 0; b <= a; ++b) {
                matrix[a * n + b] = covariance(of[a].apart, of[b].apart);
            }
            matrix[a * n + a] += mean_error_variance(others[a]) + kLeast_K * kLeast_K;
            together[a] = covariance(of[a].apart, own.apart);
        }
        std::vector<double> gain = together;
        const auto factor = num::Cholesky::of(matrix, n);
        if (factor) {
            factor->solve(gain);
            for (std::size_t a = 0; a < n; ++a) {
                mean += gain[a] * (observed(others[a]) - of[a].mean);
                variance -= gain[a] * together[a];
            }
        }
        return {mean, std::sqrt(std::max(variance, 0.0) + error + kLeast_K * kLeast_K)};
    }

    [[nodiscard]] double observed(std::size_t which) const {
        double sum = 0.0;
        for (const ReadingWindow& window : places_[which].windows) {
            sum += window.celsius;
        }
        return sum / static_cast<double>(places_[which].windows.size());
    }
    /// The coldest and the warmest that members have it.
    [[nodiscard]] std::pair<double, double> reach(std::size_t which) const {
        double coldest = mean_in(which, 0);
        double warmest = coldest;
        for (std::size_t m = 1; m < predicted_[which].members; ++m) {
            coldest = std::min(coldest, mean_in(which, m));
            warmest = std::max(warmest, mean_in(which, m));
        }
        return {coldest, warmest};
    }

 private:
    struct Anomalies {
        double mean = 0.0;
        std::vector<double> apart;
    };
    static constexpr double kLeast_K = 0.5;  ///< members are no closer to the truth than that

    /// What a member has there, on the mean of the windows.
    [[nodiscard]] double mean_in(std::size_t which, std::size_t member) const {
        const std::size_t windows = places_[which].windows.size();
        double sum = 0.0;
        for (std::size_t w = 0; w < windows; ++w) {
            sum += predicted_[which].windows[member * windows + w];
        }
        return sum / static_cast<double>(windows);
    }
    [[nodiscard]] std::vector<std::size_t> best_for(const std::vector<std::size_t>& others,
                                                    std::size_t members) const {
        std::vector<std::pair<double, std::size_t>> misfits;
        for (std::size_t m = 0; m < members; ++m) {
            double misfit = 0.0;
            for (const std::size_t other : others) {
                const double off = observed(other) - mean_in(other, m);
                misfit += off * off / (mean_error_variance(other) + 1.0);
            }
            misfits.emplace_back(misfit, m);
        }
        sort_list(misfits);
        std::vector<std::size_t> best;
        for (std::size_t k = 0; k < (others.empty() ? members : members / 2); ++k) {
            best.push_back(misfits[k].second);
        }
        return best;
    }
    [[nodiscard]] Anomalies anomalies(std::size_t which,
                                      const std::vector<std::size_t>& members) const {
        Anomalies found;
        for (const std::size_t m : members) {
            found.apart.push_back(mean_in(which, m));
            found.mean += found.apart.back() / static_cast<double>(members.size());
        }
        for (double& one : found.apart) {
            one -= found.mean;
        }
        return found;
    }
    static double covariance(std::span<const double> a, std::span<const double> b) {
        double sum = 0.0;
        for (std::size_t m = 0; m < a.size(); ++m) {
            sum += a[m] * b[m];
        }
        return sum / static_cast<double>(a.size() - 1);
    }
    [[nodiscard]] double mean_error_variance(std::size_t which) const {
        const ProbeError error = probe_error(places_[which], predicted_[which], catalogue_);
        return error.steady * error.steady +
               error.daily * error.daily / static_cast<double>(places_[which].windows.size());
    }

    std::span<const ProbePlace> places_;
    std::span<const PredictedPlace> predicted_;
    const Catalogue& catalogue_;
};

/// Which scale it was meant on, if that explains it much better than the one it was written on.
std::optional<ProbeVerdict> other_scale(double observed, double expected, double spread,
                                        std::pair<double, double> reach) {
    constexpr double kNear = 1.6;  // standard deviations
    constexpr double kBeyond_K = 1.0;
    const auto explains = [&](double celsius) {
        return std::abs(celsius - expected) < kNear * spread && celsius > reach.first - kBeyond_K &&
               celsius < reach.second + kBeyond_K;
    };
    if (observed > expected && explains(to_celsius(observed))) {
        return ProbeVerdict{.fault = ProbeFault::fahrenheit,
                            .why = "it says " + degrees(observed) + " on the mean where " +
                                   degrees(expected) +
                                   " is expected: that would be right in Fahrenheit, so look at "
                                   "the unit of its column"};
    }
    // What was written is a number of °F, which the pile would have in °C.
    if (observed < reach.first - kBeyond_K && explains(to_fahrenheit(observed))) {
        return ProbeVerdict{.fault = ProbeFault::celsius,
                            .why = "it says " + degrees(observed) + " on the mean where " +
                                   degrees(expected) +
                                   " is expected: that would be right had Celsius been written as "
                                   "Fahrenheit, so look at the unit of its column"};
    }
    return std::nullopt;
}

}  // namespace

ProbeError probe_error(const ProbePlace& place, const PredictedPlace& predicted,
                       const Catalogue& catalogue) {
    using enum ConstantId;
    if (place.kind == check::ProbeKind::surface) {
        const double surface = catalogue.value(pile_surface_error);
        return {.daily = surface, .steady = surface};
    }
    return {.daily = catalogue.value(pile_probe_error),
            .steady = std::hypot(catalogue.value(pile_probe_offset),
                                 catalogue.value(pile_probe_place) * predicted.slope_K_m)};
}

std::vector<ProbeVerdict> probe_verdicts(std::span<const ProbePlace> places,
                                         std::span<const PredictedPlace> predicted,
                                         const Catalogue& catalogue) {
    std::vector<ProbeVerdict> verdicts(places.size());
    std::vector<std::size_t> trusted;
    for (std::size_t r = 0; r < places.size(); ++r) {
        const bool is_nowhere = std::ranges::any_of(predicted[r].celsius,
                                                    [](double one) { return !std::isfinite(one); });
        if (!places[r].part || is_nowhere) {
            verdicts[r] = {.fault = ProbeFault::nowhere,
                           .why = "no beets were piled where it was read"};
        } else if (auto one = stuck(places[r], predicted[r])) {
            verdicts[r] = *std::move(one);
        } else if (auto other = jumping(places[r], predicted[r])) {
            verdicts[r] = *std::move(other);
        } else {
            trusted.push_back(r);
        }
    }
    const Windows windows(places, predicted, catalogue);
    // The one that is furthest from what all others say goes first.
    for (;;) {
        std::optional<std::size_t> worst;
        double furthest = 0.0;
        for (const std::size_t r : trusted) {
            std::vector<std::size_t> others;
            std::ranges::copy_if(trusted, std::back_inserter(others),
                                 [&](std::size_t one) { return one != r; });
            const auto [expected, spread] = windows.expected(r, others);
            verdicts[r].expected = expected;
            verdicts[r].spread = spread;
            const double off = std::abs(windows.observed(r) - expected) / spread;
            if (off > furthest) {
                furthest = off;
                worst = r;
            }
        }
        constexpr double kSuspect = 3.5;  // standard deviations
        constexpr double kBroken = 4.0;
        constexpr double kOutOfReach_K = 4.0;
        if (!worst || furthest < kSuspect) {
            return verdicts;
        }
        const double observed = windows.observed(*worst);
        ProbeVerdict& verdict = verdicts[*worst];
        const auto reach = windows.reach(*worst);
        if (auto scale = other_scale(observed, verdict.expected, verdict.spread, reach)) {
            scale->expected = verdict.expected;
            scale->spread = verdict.spread;
            verdict = *std::move(scale);
        } else if (furthest > kBroken && (observed > reach.second + kOutOfReach_K ||
                                          observed < reach.first - kOutOfReach_K)) {
            verdict.fault = ProbeFault::unreconciled;
            verdict.why = "it says " + degrees(observed) + " on the mean where the others let " +
                          degrees(verdict.expected) +
                          " be expected, and nothing that is known of piles explains it: hold "
                          "another probe beside it";
        } else {
            constexpr double kOfIt = 0.5;
            verdict.apart_K = kOfIt * std::abs(observed - verdict.expected);
            verdict.why = "it says " + degrees(observed) + " on the mean where the others let " +
                          degrees(verdict.expected) +
                          " be expected: a spot of its own, or a probe that is off; hold another "
                          "one beside it";
        }
        std::erase(trusted, *worst);
    }
}

}  // namespace beetwright::engine
