#include "harvester/next_look.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "base/random.hpp"
#include "base/sorted.hpp"
#include "num/cholesky.hpp"

namespace beetwright::harvester {
namespace {

constexpr double kTankBeets = 50.0;
constexpr double kEarlyBeets = 30.0;
constexpr double kRowBeets = 30.0;
constexpr Area kStrip(10.0);
/// Sums over draws part in their last digits: what is left of as much as nothing is nothing, so
/// that looks which change nothing stay in their order.
constexpr double kDust = 1e-9;

/// What one draw lets people see at a look: numbers that gains may go with, with their chance.
class Sights {
 public:
    Sights(const Situation& situation, const SightConstants& sight, RandomStream& random)
        : situation_(situation), sight_(sight), random_(random) {}

    std::vector<double> of(LookAt look, const Predictors& z, const Topped& topped) {
        const Breaks breaks(z);
        const auto value = [&](Predictor p) { return z[static_cast<std::size_t>(p)]; };
        std::vector<double> seen;
        const auto share = [&](double chance, double beets) {
            seen.push_back(chance + std::sqrt(chance * (1.0 - chance) / beets) * random_.normal());
        };
        const auto crowns = [&](double beets) {
            const auto chances =
                crowns_seen(topped.shares, chance_of(value(Predictor::long_stalks)),
                            chance_of(value(Predictor::slanted)), sight_.misjudged);
            share(chances[static_cast<std::size_t>(CrownSeen::long_stalks)], beets);
            share(chances[static_cast<std::size_t>(CrownSeen::too_deep)], beets);
        };
        switch (look) {
            case LookAt::tank:
                crowns(kTankBeets);
                share(breaks.by_any(kBreakLimits[0]), kTankBeets);
                share(breaks.by_any(kBreakLimits[1]), kTankBeets);
                break;
            case LookAt::before_cleaning:
                share(breaks.by_lifting(kBreakLimits[0]), kEarlyBeets);
                share(breaks.by_lifting(kBreakLimits[1]), kEarlyBeets);
                break;
            case LookAt::row: crowns(kRowBeets); break;
            case LookAt::furrow: {
                const double share_lost =
                    std::exp(value(Predictor::unlifted)) +
                    sight_.lost_root_mass * (std::exp(value(Predictor::through_rolls)) +
                                             std::exp(value(Predictor::through_guards)));
                const double roots = kStrip * situation_.roots.beets * share_lost;
                seen.push_back(roots + std::sqrt(roots) * random_.normal());
                const double piece = sight_.tail_piece * situation_.roots.mean_mass.si();
                const double tails = (kStrip * situation_.standing).si() *
                                     mean_tail_loss(z, sight_.loss_of_breaks) *
                                     std::exp(value(Predictor::tails_found)) / piece;
                seen.push_back(tails + std::sqrt(tails) * random_.normal());
                break;
            }
            case LookAt::tare:
                seen.push_back(std::log(std::exp(value(Predictor::sticking_soil)) +
                                        std::exp(value(Predictor::loose_soil))) +
                               sight_.tare_cv * random_.normal());
                break;
        }
        return seen;
    }

 private:
    const Situation& situation_;
    const SightConstants& sight_;
    RandomStream& random_;
};

/// Columns of zero mean and unit spread, and their squares.
std::vector<double> features_of(const std::vector<std::vector<double>>& seen, std::size_t& count) {
    const std::size_t n = seen.size();
    const std::size_t stats = seen.front().size();
    count = 1 + 2 * stats;
    std::vector<double> features(n * count, 1.0);
    for (std::size_t s = 0; s < stats; ++s) {
        double mean = 0.0;
        double square = 0.0;
        for (const auto& row : seen) {
            mean += row[s] / static_cast<double>(n);
        }
        for (const auto& row : seen) {
            square += (row[s] - mean) * (row[s] - mean) / static_cast<double>(n);
        }
        const double sd = std::sqrt(std::max(square, 1e-300));
        for (std::size_t i = 0; i < n; ++i) {
            const double z = (seen[i][s] - mean) / sd;
            features[i * count + 1 + 2 * s] = z;
            features[i * count + 2 + 2 * s] = z * z;
        }
    }
    return features;
}

/// What gains are expected to be by what is seen: least squares, and drawn to their mean by what as
/// many features explain of noise.
std::vector<double> expected_by(const std::vector<double>& features, std::size_t count,
                                const std::vector<double>& gains) {
    const std::size_t n = gains.size();
    std::vector<double> normal(count * count);
    std::vector<double> weights(count);
    double mean = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        const double* row = &features[i * count];
        mean += gains[i] / static_cast<double>(n);
        for (std::size_t a = 0; a < count; ++a) {
            weights[a] += row[a] * gains[i];
            for (std::size_t b = 0; b < count; ++b) {
                normal[a * count + b] += row[a] * row[b];
            }
        }
    }
    for (std::size_t a = 0; a < count; ++a) {
        normal[a * count + a] += 1e-6 * static_cast<double>(n);
    }
    const auto factor = num::Cholesky::of(normal, count);
    require(factor.has_value(), "a sum of squares is positive");
    factor->solve(weights);
    std::vector<double> fitted(n);
    double explained = 0.0;
    double all = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t a = 0; a < count; ++a) {
            fitted[i] += features[i * count + a] * weights[a];
        }
        explained += (fitted[i] - mean) * (fitted[i] - mean);
        all += (gains[i] - mean) * (gains[i] - mean);
    }
    // Adjusted R squared over R squared (Theil 1961).
    const double r2 = all > 0.0 ? std::min(explained / all, 1.0) : 0.0;
    const double freedom = static_cast<double>(n - count);
    const double adjusted = std::max(1.0 - (1.0 - r2) * static_cast<double>(n - 1) / freedom, 0.0);
    const double keep = r2 > 0.0 ? std::sqrt(adjusted / r2) : 0.0;
    for (double& value : fitted) {
        value = mean + keep * (value - mean);
    }
    return fitted;
}

}  // namespace

std::string_view words(LookAt look) {
    switch (look) {
        case LookAt::tank: return "50 beets in the tank: crowns and tails";
        case LookAt::before_cleaning:
            return "30 beets on the roller bed, before the cleaning: tails";
        case LookAt::row: return "30 crowns in the row, topped, before the shares";
        case LookAt::furrow: return "10 m² behind the machine, dug and searched";
        case LookAt::tare: return "a tare sample";
    }
    return "";
}

std::vector<WorthOfLook> worth_of_looks(const Situation& situation, const Ground& ground,
                                        std::span<const Tried> changes, const SightConstants& sight,
                                        std::uint64_t seed) {
    const std::size_t n = ground.count();
    std::vector<Predictors> drawn;
    std::vector<Topped> tops;
    for (std::size_t i = 0; i < n; ++i) {
        drawn.push_back(predictors(situation, ground.draws.subspan(i * kParameters, kParameters)));
        tops.push_back(topped(drawn.back(), situation));
    }
    double best_now = 0.0;
    for (const Tried& change : changes) {
        best_now = std::max(best_now, change.gain.value);
    }
    std::vector<WorthOfLook> worths;
    for (std::size_t l = 0; l < kLooks; ++l) {
        const auto look = static_cast<LookAt>(l);
        RandomStream random(seed, "a look that might be taken", l);
        Sights sights(situation, sight, random);
        std::vector<std::vector<double>> seen;
        for (std::size_t i = 0; i < n; ++i) {
            seen.push_back(sights.of(look, drawn[i], tops[i]));
        }
        std::size_t count = 0;
        const auto features = features_of(seen, count);
        std::vector<double> best(n, 0.0);
        for (const Tried& change : changes) {
            const auto expected = expected_by(features, count, change.gains);
            for (std::size_t i = 0; i < n; ++i) {
                best[i] = std::max(best[i], expected[i]);
            }
        }
        double after = 0.0;
        for (const double gain : best) {
            after += gain / static_cast<double>(n);
        }
        const double worth = after - best_now;
        worths.push_back({look, worth > kDust * best_now ? worth : 0.0});
    }
    sort_list(worths, std::greater<>(), &WorthOfLook::worth);
    return worths;
}

}  // namespace beetwright::harvester
