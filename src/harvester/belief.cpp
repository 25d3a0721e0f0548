#include "harvester/belief.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "base/contract.hpp"
#include "num/cholesky.hpp"

namespace beetwright::harvester {
namespace {

constexpr int kMostSteps = 25;
constexpr double kSettled = 1e-4;  ///< gain of a step that is not worth another
/// Draws of the approximation that are weighed: many where they cost little.
constexpr std::size_t draws_of(std::size_t predictors) {
    return predictors > 4 ? 256 : 1024;
}
constexpr std::size_t kRecentChecks = 4;  ///< that draws are made by afresh

/// A share of draws that count, from which on the peak's own normal is as good as theirs. It has no
/// chance in it, which over a season of checks would add up.
constexpr double kGoodShare = 0.8;
/// Draws reach a little farther than what they stand for, so that its tails are met.
constexpr double kReach = 1.4;  ///< of the covariance

/// A normal belief about a few predictors.
struct Normal {
    std::vector<double> mean;
    std::vector<double> covariance;  ///< row by row
};

/// Scores in antithetic pairs whose means are zero and whose covariance is one, so that weights
/// that are even change no moment.
std::vector<double> even_scores(std::size_t n) {
    RandomStream random(1, "scores of a check", n);
    const std::size_t draws = draws_of(n);
    std::vector<double> scores(draws * n);
    for (std::size_t i = 0; i < draws; i += 2) {
        for (std::size_t a = 0; a < n; ++a) {
            scores[i * n + a] = random.normal();
            scores[(i + 1) * n + a] = -scores[i * n + a];
        }
    }
    std::vector<double> covariance(n * n);
    for (std::size_t i = 0; i < draws; ++i) {
        for (std::size_t a = 0; a < n; ++a) {
            for (std::size_t b = 0; b < n; ++b) {
                covariance[a * n + b] +=
                    scores[i * n + a] * scores[i * n + b] / static_cast<double>(draws);
            }
        }
    }
    const auto factor = num::Cholesky::of(covariance, n);
    require(factor.has_value(), "draws spread in every direction");
    for (std::size_t i = 0; i < draws; ++i) {
        factor->bleach({&scores[i * n], n});
    }
    return scores;
}

/// A belief about the predictors that a check touches, and the check's likelihood of them.
class Posterior {
 public:
    /// `others`: predictors that the check does not touch, as they are thought to be.
    Posterior(const Likelihood& likelihood, Normal prior, const Predictors& others)
        : likelihood_(likelihood), prior_(std::move(prior)), others_(others) {
        const auto factor = num::Cholesky::of(prior_.covariance, size());
        require(factor.has_value(), "each predictor has a doubt of its own");
        precision_ = factor->inverse();
    }

    [[nodiscard]] std::size_t size() const { return prior_.mean.size(); }
    [[nodiscard]] const std::vector<double>& precision() const { return precision_; }
    [[nodiscard]] const Normal& prior() const { return prior_; }

    /// The normal whose peak and curvature are the posterior's: Laplace's approximation.
    [[nodiscard]] Normal about_the_peak() const {
        Normal normal{prior_.mean, prior_.covariance};
        double height = log(normal.mean);
        for (int step = 0; step < kMostSteps; ++step) {
            auto [gradient, information] = likelihood_.slopes(spread_out(normal.mean));
            for (std::size_t a = 0; a < size(); ++a) {
                for (std::size_t b = 0; b < size(); ++b) {
                    gradient[a] -= precision_[a * size() + b] * (normal.mean[b] - prior_.mean[b]);
                    information[a * size() + b] += precision_[a * size() + b];
                }
            }
            const auto factor = num::Cholesky::of(information, size());
            require(factor.has_value(), "information and precision are positive");
            normal.covariance = factor->inverse();
            std::vector<double> move = gradient;
            factor->solve(move);
            double gain = 0.0;
            for (std::size_t a = 0; a < size(); ++a) {
                gain += move[a] * gradient[a];
            }
            if (gain < kSettled || !climb_along(move, normal.mean, height)) {
                break;
            }
        }
        return normal;
    }

    /// The mean and covariance of the posterior, by draws from `near` weighed by what they should
    /// have been; and how many of them count, as a share. No weight is more than the root of the
    /// draws' number times the mean (Ionides 2008, J. Comput. Graph. Stat. 17:295-311).
    struct Weighed {
        Normal normal;
        double effective_share = 0.0;
    };
    [[nodiscard]] Weighed weighed(const Normal& near, std::span<const double> scores) const {
        const std::size_t n = size();
        const std::size_t draws = draws_of(n);
        const auto factor = num::Cholesky::of(near.covariance, n);
        if (!factor) {
            return {near, 0.0};
        }
        std::vector<double> z(draws * n), weights;
        for (std::size_t i = 0; i < draws; ++i) {
            const std::span<double> draw(&z[i * n], n);
            factor->colour(scores.subspan(i * n, n), draw);
            double square = 0.0;
            for (std::size_t a = 0; a < n; ++a) {
                draw[a] += near.mean[a];
                square += scores[i * n + a] * scores[i * n + a];
            }
            weights.push_back(log(draw) + 0.5 * square);
        }
        const double most = *std::ranges::max_element(weights);
        double sum = 0.0;
        for (double& weight : weights) {
            weight = std::exp(weight - most);
            sum += weight;
        }
        const double cap = sum / std::sqrt(static_cast<double>(draws));
        sum = 0.0;
        double squares = 0.0;
        for (double& weight : weights) {
            weight = std::min(weight, cap);
            sum += weight;
            squares += weight * weight;
        }
        Weighed result{{std::vector<double>(n), std::vector<double>(n * n)},
                       sum * sum / squares / static_cast<double>(draws)};
        for (std::size_t i = 0; i < draws; ++i) {
            for (std::size_t a = 0; a < n; ++a) {
                result.normal.mean[a] += weights[i] / sum * z[i * n + a];
            }
        }
        for (std::size_t i = 0; i < draws; ++i) {
            for (std::size_t a = 0; a < n; ++a) {
                for (std::size_t b = 0; b < n; ++b) {
                    result.normal.covariance[a * n + b] += weights[i] / sum *
                                                           (z[i * n + a] - result.normal.mean[a]) *
                                                           (z[i * n + b] - result.normal.mean[b]);
                }
            }
        }
        // A handful of draws spread in few directions: as far as they are few, what was drawn about
        // stands in for them.
        const double few = static_cast<double>(n + 1);
        const double lend = few / (few + result.effective_share * static_cast<double>(draws));
        for (std::size_t a = 0; a < n * n; ++a) {
            result.normal.covariance[a] =
                (1.0 - lend) * result.normal.covariance[a] + lend * near.covariance[a];
        }
        return result;
    }

 private:
    /// Logarithm of likelihood times prior, but for a constant.
    [[nodiscard]] double log(std::span<const double> z) const {
        double square = 0.0;
        for (std::size_t a = 0; a < size(); ++a) {
            for (std::size_t b = 0; b < size(); ++b) {
                square +=
                    (z[a] - prior_.mean[a]) * precision_[a * size() + b] * (z[b] - prior_.mean[b]);
            }
        }
        return likelihood_.log(spread_out(z)) - 0.5 * square;
    }
    [[nodiscard]] Predictors spread_out(std::span<const double> z) const {
        Predictors all = others_;
        for (std::size_t a = 0; a < size(); ++a) {
            all[static_cast<std::size_t>(likelihood_.touched()[a])] = z[a];
        }
        return all;
    }
    /// False where no part of the step gains: the top, as far as numbers tell.
    bool climb_along(std::span<const double> move, std::vector<double>& at, double& height) const {
        for (double part = 1.0; part > 1e-4; part *= 0.5) {
            std::vector<double> next = at;
            for (std::size_t a = 0; a < size(); ++a) {
                next[a] += part * move[a];
            }
            const double there = log(next);
            if (there > height) {
                at = std::move(next);
                height = there;
                return true;
            }
        }
        return false;
    }

    const Likelihood& likelihood_;
    Normal prior_;
    Predictors others_;
    std::vector<double> precision_;
};

Normal widened(Normal normal) {
    for (double& covariance : normal.covariance) {
        covariance *= kReach;
    }
    return normal;
}

}  // namespace

Belief::Belief(const Catalogue& catalogue)
    : forgetting_s_(catalogue.value(ConstantId::harvester_forgetting)),
      now_{std::vector<double>(kSize), std::vector<double>(kSize * kSize)} {
    for (std::size_t p = 0; p < kParameters; ++p) {
        prior_.push_back(prior(parameters()[p], catalogue));
        now_.mean[p] = prior_[p].mean;
        covariance(p, p) = prior_[p].sd * prior_[p].sd;
    }
    const double of_field = catalogue.value(ConstantId::harvester_spread_of_fields);
    const double of_check = catalogue.value(ConstantId::harvester_spread_of_checks);
    for (const std::size_t level : levels()) {
        field_sd_.push_back(of_field * prior_[level].sd);
        check_sd_.push_back(of_check * prior_[level].sd);
    }
    put_field(nullptr);
}

void Belief::forget_level(std::size_t level, double keep) {
    const std::size_t p = levels()[level];
    now_.mean[p] = prior_[p].mean + keep * (now_.mean[p] - prior_[p].mean);
    for (std::size_t other = 0; other < kSize; ++other) {
        covariance(p, other) *= keep;
        covariance(other, p) *= keep;
    }
    covariance(p, p) += (1.0 - keep * keep) * prior_[p].sd * prior_[p].sd;
}

void Belief::wait(Duration time) {
    require(time >= Duration::zero(), "time goes forward");
    const double keep = std::exp(-time.si() / forgetting_s_);
    for (std::size_t level = 0; level < kLevelCount; ++level) {
        forget_level(level, keep);
    }
    start_afresh();
}

void Belief::change_parts(Stage stage) {
    for (std::size_t level = 0; level < kLevelCount; ++level) {
        if (parameters()[levels()[level]].level_of == stage) {
            forget_level(level, 0.0);
        }
    }
    start_afresh();
}

Belief::Left Belief::field() const {
    Left left{{now_.mean.begin() + kParameters, now_.mean.end()}, {}, checks_here_};
    for (std::size_t a = 0; a < kLevelCount; ++a) {
        for (std::size_t b = 0; b < kLevelCount; ++b) {
            left.covariance.push_back(covariance(kParameters + a, kParameters + b));
        }
    }
    return left;
}

void Belief::put_field(const Left* before) {
    for (std::size_t a = kParameters; a < kSize; ++a) {
        const std::size_t level = a - kParameters;
        now_.mean[a] = before == nullptr ? 0.0 : before->mean[level];
        for (std::size_t other = 0; other < kSize; ++other) {
            covariance(a, other) = covariance(other, a) = 0.0;
        }
    }
    for (std::size_t a = 0; a < kLevelCount; ++a) {
        for (std::size_t b = 0; b < kLevelCount; ++b) {
            const double alone = a == b ? field_sd_[a] * field_sd_[a] : 0.0;
            covariance(kParameters + a, kParameters + b) =
                before == nullptr ? alone : before->covariance[a * kLevelCount + b];
        }
    }
    checks_here_ = before == nullptr ? 0 : before->checks;
    start_afresh();
}

void Belief::enter(std::string_view name) {
    if (name == field_) {
        return;
    }
    if (checks_here_ > 0) {
        left_.insert_or_assign(field_, field());
    }
    field_ = name;
    const auto before = left_.find(name);
    put_field(before == left_.end() ? nullptr : &before->second);
}

Learned Belief::learn(const Look& look, const Situation& situation,
                      const SightConstants& constants) {
    Learned learned;
    Unknowns before = now_;
    for (const Look& part : look.parts()) {
        const Learned of_part = learn_part(part, situation, constants);
        learned.effective_share = std::min(learned.effective_share, of_part.effective_share);
    }
    if (!look.is_empty()) {
        ++checks_;
        ++checks_here_;
        if (recent_.size() == kRecentChecks) {
            recent_.erase(recent_.begin());
        }
        recent_.push_back({std::move(before), {look, situation, constants}});
    }
    return learned;
}

Learned Belief::learn_part(const Look& look, const Situation& situation,
                           const SightConstants& constants) {
    const Likelihood likelihood(look, situation, constants);
    const auto touched = likelihood.touched();
    const std::size_t n = touched.size();
    if (n == 0) {
        return {};
    }
    // Nothing gets quite certain, however long a season: so much of a prior's variance comes back.
    constexpr double kNeverCertain = 1e-9;
    for (std::size_t p = 0; p < kParameters; ++p) {
        covariance(p, p) += kNeverCertain * prior_[p].sd * prior_[p].sd;
    }
    for (std::size_t level = 0; level < kLevelCount; ++level) {
        covariance(kParameters + level, kParameters + level) +=
            kNeverCertain * field_sd_[level] * field_sd_[level];
    }
    // What is thought of the predictors, and how the unknowns go along with them.
    Normal before{std::vector<double>(n), std::vector<double>(n * n)};
    std::vector<double> along(kSize * n);
    std::vector<std::array<double, kSize>> rows;
    for (std::size_t a = 0; a < n; ++a) {
        rows.push_back(loadings(touched[a], situation));
        const auto& row = rows.back();
        for (std::size_t u = 0; u < kSize; ++u) {
            before.mean[a] += row[u] * now_.mean[u];
            for (std::size_t w = 0; w < kSize; ++w) {
                along[u * n + a] += row[w] == 0.0 ? 0.0 : covariance(u, w) * row[w];
            }
        }
    }
    for (std::size_t a = 0; a < n; ++a) {
        for (std::size_t b = 0; b < n; ++b) {
            for (std::size_t u = 0; u < kSize; ++u) {
                before.covariance[a * n + b] += rows[a][u] * along[u * n + b];
            }
        }
        for (std::size_t level = 0; level < kLevelCount; ++level) {
            const double moved = rows[a][levels()[level]] * check_sd_[level];
            before.covariance[a * n + a] += moved * moved;
        }
    }
    std::vector<double> here(now_.mean.begin(), now_.mean.begin() + kParameters);
    for (std::size_t level = 0; level < kLevelCount; ++level) {
        here[levels()[level]] += now_.mean[kParameters + level];
    }
    const Posterior posterior(likelihood, std::move(before), predictors(situation, here));
    std::vector<double>& scores = scores_[n];
    if (scores.empty()) {
        scores = even_scores(n);
    }
    const Normal peak = posterior.about_the_peak();
    auto weighed = posterior.weighed(peak, scores);
    if (weighed.effective_share >= kGoodShare) {
        weighed.normal = peak;
    } else {
        weighed = posterior.weighed(widened(weighed.normal), scores);
    }
    take(along, posterior.precision(), posterior.prior().mean, posterior.prior().covariance,
         weighed.normal.mean, weighed.normal.covariance);
    return {.effective_share = weighed.effective_share};
}

void Belief::take(std::span<const double> along, std::span<const double> precision,
                  std::span<const double> mean_before, std::span<const double> before,
                  std::span<const double> mean_after, std::span<const double> after) {
    const std::size_t n = mean_before.size();
    // How each unknown is regressed on the predictors.
    std::vector<double> gain(kSize * n), by_change(kSize * n);
    for (std::size_t u = 0; u < kSize; ++u) {
        for (std::size_t a = 0; a < n; ++a) {
            for (std::size_t b = 0; b < n; ++b) {
                gain[u * n + a] += along[u * n + b] * precision[b * n + a];
            }
            now_.mean[u] += gain[u * n + a] * (mean_after[a] - mean_before[a]);
        }
        for (std::size_t a = 0; a < n; ++a) {
            for (std::size_t b = 0; b < n; ++b) {
                by_change[u * n + b] += gain[u * n + a] * (after[a * n + b] - before[a * n + b]);
            }
        }
    }
    for (std::size_t u = 0; u < kSize; ++u) {
        for (std::size_t w = 0; w <= u; ++w) {
            double sum = covariance(u, w);
            for (std::size_t b = 0; b < n; ++b) {
                sum += by_change[u * n + b] * gain[w * n + b];
            }
            covariance(u, w) = covariance(w, u) = sum;
        }
    }
}

Known Belief::parameter(std::size_t place) const {
    require(place < kParameters, "a parameter's place");
    return {now_.mean[place], std::sqrt(covariance(place, place))};
}

Known Belief::of_field(std::size_t level) const {
    require(level < kLevelCount, "a level's place");
    const std::size_t place = kParameters + level;
    return {now_.mean[place], std::sqrt(covariance(place, place))};
}

Known Belief::predictor(Predictor predictor, const Situation& situation) const {
    const auto row = loadings(predictor, situation);
    Known known;
    double variance = 0.0;
    for (std::size_t u = 0; u < kSize; ++u) {
        known.mean += row[u] * now_.mean[u];
        for (std::size_t w = 0; w < kSize; ++w) {
            variance += row[u] * covariance(u, w) * row[w];
        }
    }
    known.sd = std::sqrt(variance);
    return known;
}

void Belief::start_afresh() {
    recent_.clear();
}

std::vector<double> Belief::draws(std::size_t count, std::uint64_t seed) const {
    std::vector<SeenCheck> checks;
    for (const Recent& recent : recent_) {
        checks.push_back(recent.check);
    }
    const auto rows = field_draws(recent_.empty() ? now_ : recent_.front().before, now_, checks,
                                  check_sd_, count, seed);
    std::vector<double> values(kParameters * count);
    for (std::size_t i = 0; i < count; ++i) {
        const double* from = &rows[i * kSize];
        double* to = &values[i * kParameters];
        std::copy_n(from, kParameters, to);
        for (std::size_t level = 0; level < kLevelCount; ++level) {
            to[levels()[level]] += from[kParameters + level];
        }
    }
    return values;
}

}  // namespace beetwright::harvester
