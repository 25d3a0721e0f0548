#include "ledger/learned.hpp"

#include <algorithm>
#include <cmath>

namespace beetwright::ledger {
namespace {

/// Below this the expansion of Student's t by StudentScore is not to be trusted.
constexpr double kLeastFreedom = 3.0;

struct Weighed {
    double sum = 0.0;          ///< of the weights
    double sum_squares = 0.0;  ///< of the weights' squares
    double mean = 0.0;
};

// Each estimate by the inverse of its variance plus the variance between members. A floor keeps an
// estimate that claims no error at all from taking all the weight.
Weighed weigh(std::span<const num::Uncertain> estimates, double between, double floor) {
    Weighed w;
    double total = 0.0;
    for (const auto& e : estimates) {
        const double weight = 1.0 / (std::max(e.sd * e.sd, floor) + between);
        w.sum += weight;
        w.sum_squares += weight * weight;
        total += weight * e.mean;
    }
    w.mean = total / w.sum;
    return w;
}

}  // namespace

std::optional<num::Uncertain> predict_another(std::span<const num::Uncertain> estimates,
                                              std::size_t least) {
    if (estimates.size() < std::max<std::size_t>(least, 2)) {
        return std::nullopt;
    }
    double largest_variance = 0.0;
    double largest_mean = 0.0;
    for (const auto& e : estimates) {
        largest_variance = std::max(largest_variance, e.sd * e.sd);
        largest_mean = std::max(largest_mean, std::abs(e.mean));
    }
    const double tiny = 1e-6 * largest_mean;
    const double floor = std::max(1e-4 * largest_variance, tiny * tiny);
    if (floor <= 0.0) {
        return num::Uncertain{0.0, 0.0, 1e9, estimates.front().support};
    }

    const auto members = static_cast<double>(estimates.size());
    const Weighed fixed = weigh(estimates, 0.0, floor);
    double q = 0.0;
    for (const auto& e : estimates) {
        const double d = e.mean - fixed.mean;
        q += d * d / std::max(e.sd * e.sd, floor);
    }
    const double spare = fixed.sum - fixed.sum_squares / fixed.sum;
    const double between = std::max(0.0, (q - (members - 1.0)) / spare);
    const Weighed random = weigh(estimates, between, floor);

    num::Uncertain next;
    next.mean = random.mean;
    const double variance = between + 1.0 / random.sum;
    next.sd = std::sqrt(variance);
    // The spread between members is a difference of two estimates, so it is known worse than either
    // (Satterthwaite 1946): its variance is about 2 (between + typical error)^2 / (members - 1).
    const double typical_error = (members - 1.0) / spare;
    const double share = variance / (between + typical_error);
    next.freedom = std::max(kLeastFreedom, (members - 1.0) * share * share);
    next.support = estimates.front().support;
    return next;
}

}  // namespace beetwright::ledger
