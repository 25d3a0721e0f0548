#include "harvester/field_draws.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <utility>

#include "base/contract.hpp"
#include "base/random.hpp"
#include "num/cholesky.hpp"

namespace beetwright::harvester {
namespace {

constexpr int kBurnIn = 100;
constexpr int kThin = 10;       ///< steps from one draw to the next
constexpr double kReach = 1.6;  ///< of the approximation's covariance, so that no tail is missed

/// The part of `all` that these unknowns make up.
Unknowns part_of(const Unknowns& all, std::span<const std::size_t> places) {
    Unknowns part;
    for (const std::size_t a : places) {
        part.mean.push_back(all.mean[a]);
        for (const std::size_t b : places) {
            part.covariance.push_back(all.covariance[a * kUnknowns + b]);
        }
    }
    return part;
}

/// Of a normal: its factor, and how unlikely a place is.
class Normal {
 public:
    explicit Normal(Unknowns of) : mean_(std::move(of.mean)) {
        auto factor = num::Cholesky::of(of.covariance, mean_.size());
        require(factor.has_value(), "what is known is never certain");
        precision_ = factor->inverse();
        factor_.emplace(std::move(*factor));
    }
    [[nodiscard]] std::span<const double> mean() const { return mean_; }
    [[nodiscard]] const num::Cholesky& factor() const { return *factor_; }
    /// -2 ln of the density, but for a constant.
    [[nodiscard]] double square(std::span<const double> x) const {
        double sum = 0.0;
        const std::size_t n = mean_.size();
        for (std::size_t a = 0; a < n; ++a) {
            double row = 0.0;
            for (std::size_t b = 0; b < n; ++b) {
                row += precision_[a * n + b] * (x[b] - mean_[b]);
            }
            sum += (x[a] - mean_[a]) * row;
        }
        return sum;
    }

 private:
    std::vector<double> mean_, precision_;
    std::optional<num::Cholesky> factor_;
};

/// One check's part, and how the predictors it touches go with a block's unknowns.
struct Sight {
    Look look;
    const SeenCheck* check;
    Predictors others{};
    std::vector<Predictor> touched;
    std::vector<double> loadings;     ///< touched x unknowns of the block
    std::vector<double> of_check_sd;  ///< by touched: what a single check adds
    std::size_t first_deviation = 0;  ///< among the block's; one for each touched
};

/// Unknowns that checks of one kind bear on, and those checks.
class Block {
 public:
    Block(const Unknowns& before, const Unknowns& after, std::vector<std::size_t> places,
          std::vector<Sight> sights)
        : places_(std::move(places)),
          sights_(std::move(sights)),
          before_(part_of(before, places_)),
          about_(reaching(part_of(after, places_))) {
        for (Sight& sight : sights_) {
            sight.first_deviation = deviations_;
            deviations_ += sight.touched.size();
        }
        for (const Sight& sight : sights_) {
            likelihoods_.emplace_back(sight.look, sight.check->situation, sight.check->constants);
        }
    }

    /// Writes `count` draws into rows of kUnknowns.
    void draw(std::size_t count, RandomStream& random, std::span<double> rows) const {
        const std::size_t n = places_.size();
        // Deviations of checks follow the unknowns; they are scores.
        std::vector<double> at(n + deviations_), other(at.size()), next(at.size());
        std::copy(about_.mean().begin(), about_.mean().end(), at.begin());
        double height = log_ratio(at);
        for (std::size_t i = 0; i < count; ++i) {
            for (int step = i == 0 ? -kBurnIn : 0; step < kThin; ++step) {
                fresh(random, other);
                const double level = height + std::log(random.uniform());
                double angle = 2.0 * std::numbers::pi * random.uniform();
                double low = angle - 2.0 * std::numbers::pi;
                double high = angle;
                for (;;) {
                    along(at, other, angle, next);
                    const double there = log_ratio(next);
                    if (there > level) {
                        at.swap(next);
                        height = there;
                        break;
                    }
                    (angle < 0.0 ? low : high) = angle;
                    if (high - low < 1e-9) {
                        break;  // stays where it is: rounding alone
                    }
                    angle = low + (high - low) * random.uniform();
                }
            }
            for (std::size_t a = 0; a < n; ++a) {
                rows[i * kUnknowns + places_[a]] = at[a];
            }
        }
    }

 private:
    static Unknowns reaching(Unknowns of) {
        for (double& covariance : of.covariance) {
            covariance *= kReach;
        }
        return of;
    }
    void fresh(RandomStream& random, std::vector<double>& to) const {
        const std::size_t n = places_.size();
        std::vector<double> scores(n);
        for (double& score : scores) {
            score = random.normal();
        }
        about_.factor().colour(scores, {to.data(), n});
        for (std::size_t a = 0; a < n; ++a) {
            to[a] += about_.mean()[a];
        }
        for (std::size_t d = n; d < to.size(); ++d) {
            to[d] = random.normal();
        }
    }
    /// On the ellipse through both about the approximation's middle.
    void along(std::span<const double> from, std::span<const double> other, double angle,
               std::span<double> to) const {
        const double c = std::cos(angle);
        const double s = std::sin(angle);
        for (std::size_t a = 0; a < from.size(); ++a) {
            const double middle = a < places_.size() ? about_.mean()[a] : 0.0;
            to[a] = middle + (from[a] - middle) * c + (other[a] - middle) * s;
        }
    }
    /// ln of what the posterior is over the approximation.
    [[nodiscard]] double log_ratio(std::span<const double> x) const {
        const std::size_t n = places_.size();
        double sum = 0.5 * (about_.square(x.first(n)) - before_.square(x.first(n)));
        for (std::size_t s = 0; s < sights_.size(); ++s) {
            const Sight& sight = sights_[s];
            Predictors z = sight.others;
            for (std::size_t t = 0; t < sight.touched.size(); ++t) {
                double value = sight.of_check_sd[t] * x[n + sight.first_deviation + t];
                for (std::size_t a = 0; a < n; ++a) {
                    value += sight.loadings[t * n + a] * x[a];
                }
                z[static_cast<std::size_t>(sight.touched[t])] = value;
            }
            sum += likelihoods_[s].log(z);
        }
        return sum;
    }

    std::vector<std::size_t> places_;
    std::vector<Sight> sights_;
    Normal before_;
    Normal about_;
    std::vector<Likelihood> likelihoods_;
    std::size_t deviations_ = 0;
};

/// The checks' parts that touch the same predictors, block by block.
std::vector<Block> blocks_of(const Unknowns& before, const Unknowns& after,
                             std::span<const SeenCheck> checks, std::span<const double> check_sd) {
    struct Gathered {
        std::set<Predictor> touched;
        std::vector<std::pair<const SeenCheck*, Look>> looks;
    };
    std::vector<Gathered> gathered;
    for (const SeenCheck& check : checks) {
        for (Look& look : check.look.parts()) {
            const Likelihood likelihood(look, check.situation, check.constants);
            const std::set<Predictor> touched(likelihood.touched().begin(),
                                              likelihood.touched().end());
            const auto same = std::ranges::find_if(gathered, [&](const Gathered& one) {
                return std::ranges::any_of(touched,
                                           [&](Predictor p) { return one.touched.contains(p); });
            });
            Gathered& to = same == gathered.end() ? gathered.emplace_back() : *same;
            to.touched.insert(touched.begin(), touched.end());
            to.looks.emplace_back(&check, std::move(look));
        }
    }
    std::vector<Block> blocks;
    for (Gathered& one : gathered) {
        std::vector<std::size_t> places;
        for (std::size_t u = 0; u < kUnknowns; ++u) {
            const std::size_t parameter = u < kParameters ? u : levels()[u - kParameters];
            if (one.touched.contains(parameters()[parameter].predictor)) {
                places.push_back(u);
            }
        }
        std::vector<Sight> sights;
        for (auto& [check, look] : one.looks) {
            Sight sight{.look = std::move(look),
                        .check = check,
                        .touched = {},
                        .loadings = {},
                        .of_check_sd = {}};
            const Likelihood likelihood(sight.look, check->situation, check->constants);
            sight.touched.assign(likelihood.touched().begin(), likelihood.touched().end());
            for (std::size_t p = 0; p < kPredictors; ++p) {
                const auto row = loadings(static_cast<Predictor>(p), check->situation);
                for (std::size_t u = 0; u < kUnknowns; ++u) {
                    sight.others[p] += row[u] * after.mean[u];
                }
            }
            for (const Predictor predictor : sight.touched) {
                const auto row = loadings(predictor, check->situation);
                for (const std::size_t place : places) {
                    sight.loadings.push_back(row[place]);
                }
                double variance = 0.0;
                for (std::size_t level = 0; level < kLevelCount; ++level) {
                    const double moved = row[levels()[level]] * check_sd[level];
                    variance += moved * moved;
                }
                sight.of_check_sd.push_back(std::sqrt(variance));
            }
            sights.push_back(std::move(sight));
        }
        blocks.emplace_back(before, after, std::move(places), std::move(sights));
    }
    return blocks;
}

}  // namespace

std::array<double, kUnknowns> loadings(Predictor predictor, const Situation& situation) {
    std::array<double, kUnknowns> row{};
    for (std::size_t p = 0; p < kParameters; ++p) {
        if (parameters()[p].predictor == predictor) {
            row[p] = situation.of(parameters()[p].term);
        }
    }
    for (std::size_t level = 0; level < kLevelCount; ++level) {
        row[kParameters + level] = row[levels()[level]];
    }
    return row;
}

std::vector<double> field_draws(const Unknowns& before, const Unknowns& after,
                                std::span<const SeenCheck> checks, std::span<const double> check_sd,
                                std::size_t count, std::uint64_t seed) {
    const auto factor = num::Cholesky::of(after.covariance, kUnknowns);
    require(factor.has_value(), "what is known is never certain");
    // Scores are the middles of equal slices of chance, in an order of each unknown's own.
    std::vector<double> scores(kUnknowns * count);
    std::vector<std::uint32_t> order(count);
    for (std::size_t u = 0; u < kUnknowns; ++u) {
        RandomStream random(seed, "what is known of a machine", u);
        for (std::size_t i = 0; i < count; ++i) {
            const std::size_t j = random.below(static_cast<std::uint32_t>(i + 1));
            order[i] = order[j];
            order[j] = static_cast<std::uint32_t>(i);
        }
        for (std::size_t i = 0; i < count; ++i) {
            scores[i * kUnknowns + u] =
                normal_quantile((order[i] + 0.5) / static_cast<double>(count));
        }
    }
    std::vector<double> rows(kUnknowns * count);
    for (std::size_t i = 0; i < count; ++i) {
        const std::span<double> row(&rows[i * kUnknowns], kUnknowns);
        factor->colour({&scores[i * kUnknowns], kUnknowns}, row);
        for (std::size_t u = 0; u < kUnknowns; ++u) {
            row[u] += after.mean[u];
        }
    }
    std::uint64_t number = 0;
    for (const Block& block : blocks_of(before, after, checks, check_sd)) {
        RandomStream random(seed, "checks of a field", number++);
        block.draw(count, random, rows);
    }
    return rows;
}

}  // namespace beetwright::harvester
