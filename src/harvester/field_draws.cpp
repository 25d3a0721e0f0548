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
/// Steps from one draw to the next: crowns touch nine predictors that only many counts tell apart,
/// whatever else is seen four at most.
constexpr int thin_of(std::size_t predictors) {
    return predictors > 4 ? 10 : 5;
}
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

/// On an ellipse through two places about a middle: how much of either there is.
struct OnEllipse {
    double from, other;
};

/// Of a normal: its factor, and how unlikely places are.
class Normal {
 public:
    /// `middle`: what places are counted from; its mean where there is none.
    explicit Normal(Unknowns of, std::span<const double> middle = {}) : mean_(std::move(of.mean)) {
        auto factor = num::Cholesky::of(of.covariance, mean_.size());
        require(factor.has_value(), "what is known is never certain");
        precision_ = factor->inverse();
        factor_.emplace(std::move(*factor));
        if (!middle.empty()) {
            std::vector<double> off(middle.begin(), middle.end());
            for (std::size_t a = 0; a < off.size(); ++a) {
                off[a] -= mean_[a];
            }
            off_ = pull(off);
        }
    }
    [[nodiscard]] std::span<const double> mean() const { return mean_; }
    [[nodiscard]] const num::Cholesky& factor() const { return *factor_; }

    /// -2 ln of the density all along an ellipse, but for a constant.
    struct Squares {
        double from = 0.0, other = 0.0, both = 0.0, off_from = 0.0, off_other = 0.0;

        [[nodiscard]] double at(const OnEllipse& on) const {
            return on.from * (on.from * from + 2.0 * on.other * both + 2.0 * off_from) +
                   on.other * (on.other * other + 2.0 * off_other);
        }
    };
    [[nodiscard]] Squares squares(std::span<const double> from,
                                  std::span<const double> other) const {
        const auto pull_from = pull(from);
        const auto pull_other = pull(other);
        return {.from = dot(from, pull_from),
                .other = dot(other, pull_other),
                .both = dot(from, pull_other),
                .off_from = dot(from, off_),
                .off_other = dot(other, off_)};
    }

 private:
    static double dot(std::span<const double> one, std::span<const double> other) {
        double sum = 0.0;
        for (std::size_t a = 0; a < other.size(); ++a) {
            sum += one[a] * other[a];
        }
        return sum;
    }
    [[nodiscard]] std::vector<double> pull(std::span<const double> x) const {
        const std::size_t n = mean_.size();
        std::vector<double> pulled(n);
        for (std::size_t a = 0; a < n; ++a) {
            pulled[a] = dot(x, std::span(precision_).subspan(a * n, n));
        }
        return pulled;
    }

    std::vector<double> mean_, precision_;
    std::vector<double> off_;  ///< precision times the middle's distance from the mean
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
    std::size_t first = 0;            ///< of its touched among the block's
};

/// Unknowns that checks of one kind bear on, and those checks.
class Block {
 public:
    Block(const Unknowns& before, const Unknowns& after, std::vector<std::size_t> places,
          std::vector<Sight> sights)
        : places_(std::move(places)),
          sights_(std::move(sights)),
          about_(reaching(part_of(after, places_))),
          before_(part_of(before, places_), about_.mean()) {
        for (Sight& sight : sights_) {
            sight.first = touched_;
            thin_ = std::max(thin_, thin_of(sight.touched.size()));
            touched_ += sight.touched.size();
            for (const double sd : sight.of_check_sd) {
                deviations_ += sd > 0.0 ? 1U : 0U;
            }
        }
        for (const Sight& sight : sights_) {
            likelihoods_.emplace_back(sight.look, sight.check->situation, sight.check->constants);
        }
        middle_ = seen_by(about_.mean(), std::vector<double>(deviations_));
    }

    /// Writes `count` draws into rows of kUnknowns.
    ///
    /// Places are counted from the approximation's middle. What the likelihood is asked about goes
    /// along an ellipse as the unknowns do, and so do both normals' squares: they are worked out at
    /// the two places that it goes through, not at each on the way.
    void draw(std::size_t count, RandomStream& random, std::span<double> rows) const {
        const std::size_t n = places_.size();
        std::vector<double> at(n), other(n), scores(n), deviations(deviations_);
        std::vector<double> seen(touched_), other_seen(touched_), next(touched_);
        double height = log_likelihood(seen);
        for (std::size_t i = 0; i < count; ++i) {
            for (int step = i == 0 ? -kBurnIn : 0; step < thin_; ++step) {
                for (double& score : scores) {
                    score = random.normal();
                }
                for (double& deviation : deviations) {
                    deviation = random.normal();
                }
                about_.factor().colour(scores, other);
                other_seen = seen_by(other, deviations);
                const auto about = about_.squares(at, other);
                const auto before = before_.squares(at, other);
                // ln of what the posterior is over the approximation, but for a constant.
                const auto ratio = [&](const OnEllipse& on, double likelihood) {
                    return likelihood + 0.5 * (about.at(on) - before.at(on));
                };
                const double level = ratio({1.0, 0.0}, height) + std::log(random.uniform());
                double angle = 2.0 * std::numbers::pi * random.uniform();
                double low = angle - 2.0 * std::numbers::pi;
                double high = angle;
                for (;;) {
                    const OnEllipse on{std::cos(angle), std::sin(angle)};
                    for (std::size_t t = 0; t < touched_; ++t) {
                        next[t] = seen[t] * on.from + other_seen[t] * on.other;
                    }
                    const double there = log_likelihood(next);
                    if (ratio(on, there) > level) {
                        for (std::size_t a = 0; a < n; ++a) {
                            at[a] = at[a] * on.from + other[a] * on.other;
                        }
                        seen.swap(next);
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
                rows[i * kUnknowns + places_[a]] = about_.mean()[a] + at[a];
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
    /// What unknowns and the checks' own deviations, which are scores, make of every sight's
    /// predictors.
    [[nodiscard]] std::vector<double> seen_by(std::span<const double> x,
                                              std::span<const double> deviations) const {
        const std::size_t n = places_.size();
        std::vector<double> seen;
        std::size_t deviation = 0;
        for (const Sight& sight : sights_) {
            for (std::size_t t = 0; t < sight.touched.size(); ++t) {
                const double sd = sight.of_check_sd[t];
                double value = sd > 0.0 ? sd * deviations[deviation++] : 0.0;
                for (std::size_t a = 0; a < n; ++a) {
                    value += sight.loadings[t * n + a] * x[a];
                }
                seen.push_back(value);
            }
        }
        return seen;
    }
    /// Of predictors counted from what the middle makes of them.
    [[nodiscard]] double log_likelihood(std::span<const double> seen) const {
        double sum = 0.0;
        for (std::size_t s = 0; s < sights_.size(); ++s) {
            const Sight& sight = sights_[s];
            Predictors z = sight.others;
            for (std::size_t t = 0; t < sight.touched.size(); ++t) {
                z[static_cast<std::size_t>(sight.touched[t])] =
                    middle_[sight.first + t] + seen[sight.first + t];
            }
            sum += likelihoods_[s].log(z);
        }
        return sum;
    }

    std::vector<std::size_t> places_;
    std::vector<Sight> sights_;
    Normal about_;
    Normal before_;
    std::vector<Likelihood> likelihoods_;
    int thin_ = 0;
    std::size_t touched_ = 0;
    std::size_t deviations_ = 0;  ///< by which single checks differ from their field
    std::vector<double> middle_;
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
