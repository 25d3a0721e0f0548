#include "num/ensemble_smoother.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/contract.hpp"
#include "num/symmetric_eigen.hpp"

namespace beetwright::num {
namespace {

/// One direction in which predictions of members differ.
struct Component {
    double variance = 0.0;       ///< of the members' predictions along it
    double innovation = 0.0;     ///< observed less mean prediction, along it
    std::vector<double> member;  ///< each member's prediction along it, less the mean
};

/// Directions that hold less than this of an error's variance teach nothing.
constexpr double kLeastVariance = 1e-3;

std::vector<Component> components_of(const SmootherStep& step) {
    const std::size_t n = step.members;
    const std::size_t m = step.observed.size();
    std::vector<double> mean(m, 0.0);
    for (std::size_t j = 0; j < n; ++j) {
        for (std::size_t d = 0; d < m; ++d) {
            mean[d] += step.predicted[j * m + d] / static_cast<double>(n);
        }
    }
    std::vector<double> apart(step.predicted.begin(), step.predicted.end());
    for (std::size_t j = 0; j < n; ++j) {
        for (std::size_t d = 0; d < m; ++d) {
            apart[j * m + d] -= mean[d];
        }
    }
    const double per = 1.0 / static_cast<double>(n - 1);
    std::vector<double> gram(n * n);
    for (std::size_t a = 0; a < n; ++a) {
        for (std::size_t b = 0; b <= a; ++b) {
            double sum = 0.0;
            for (std::size_t d = 0; d < m; ++d) {
                sum += apart[a * m + d] * apart[b * m + d];
            }
            gram[a * n + b] = gram[b * n + a] = per * sum;
        }
    }
    const auto eigen = symmetric_eigen(gram, n);
    std::vector<Component> components;
    for (std::size_t k = 0; k < n && eigen.values[k] > kLeastVariance; ++k) {
        const auto* const member = &eigen.vectors[k * n];
        const double length = std::sqrt(eigen.values[k] * static_cast<double>(n - 1));
        Component one{.variance = eigen.values[k], .innovation = 0.0, .member = {}};
        for (std::size_t d = 0; d < m; ++d) {
            double direction = 0.0;
            for (std::size_t j = 0; j < n; ++j) {
                direction += apart[j * m + d] * member[j];
            }
            one.innovation += direction / length * (step.observed[d] - mean[d]);
        }
        for (std::size_t j = 0; j < n; ++j) {
            one.member.push_back(length * member[j]);
        }
        components.push_back(std::move(one));
    }
    return components;
}

/// What is left of a correlation once chance is taken off: two things that have nothing to do with
/// each other correlate with a mean square of 1/(members - 1).
double sure_share(double squared_correlation, std::size_t members) {
    const double by_chance = (1.0 - squared_correlation) / static_cast<double>(members - 2);
    return std::max(0.0, 1.0 - by_chance / std::max(squared_correlation, 1e-12));
}

}  // namespace

void smooth(std::span<double> scores, const SmootherStep& step, RandomStream random) {
    const std::size_t n = step.members;
    require(n > 3 && scores.size() % n == 0, "scores of all members");
    require(step.predicted.size() == n * step.observed.size(), "a prediction of each observation");
    const auto components = components_of(step);
    // Errors drawn for each member and component, with a mean of nought over the members.
    std::vector<double> towards(components.size() * n);
    for (std::size_t k = 0; k < components.size(); ++k) {
        double mean = 0.0;
        for (std::size_t j = 0; j < n; ++j) {
            towards[k * n + j] = std::sqrt(step.inflation) * random.normal();
            mean += towards[k * n + j] / static_cast<double>(n);
        }
        for (std::size_t j = 0; j < n; ++j) {
            towards[k * n + j] += components[k].innovation - mean - components[k].member[j];
        }
    }
    for (std::size_t i = 0; i < scores.size() / n; ++i) {
        const auto score = scores.subspan(i * n, n);
        double mean = 0.0;
        for (const double one : score) {
            mean += one / static_cast<double>(n);
        }
        double variance = 0.0;
        for (const double one : score) {
            variance += (one - mean) * (one - mean) / static_cast<double>(n - 1);
        }
        if (variance <= 0.0) {
            continue;
        }
        std::vector<double> gains(components.size());
        for (std::size_t k = 0; k < components.size(); ++k) {
            double together = 0.0;
            for (std::size_t j = 0; j < n; ++j) {
                together +=
                    (score[j] - mean) * components[k].member[j] / static_cast<double>(n - 1);
            }
            const double squared = together * together / (variance * components[k].variance);
            gains[k] =
                sure_share(squared, n) * together / (components[k].variance + step.inflation);
        }
        for (std::size_t k = 0; k < components.size(); ++k) {
            for (std::size_t j = 0; j < n; ++j) {
                score[j] += gains[k] * towards[k * n + j];
            }
        }
    }
}

}  // namespace beetwright::num
