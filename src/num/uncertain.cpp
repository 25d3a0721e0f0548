#include "num/uncertain.hpp"

#include "base/random.hpp"

namespace beetwright::num {

double chance_at_most(const Uncertain& number, double value) {
    // at() never falls as z grows, and beyond eight there is less than 1e-15 of chance.
    constexpr double kFarthest = 8.0;
    constexpr int kHalvings = 40;
    const UncertainQuantile quantile(number);
    if (quantile.at(-kFarthest) > value) {
        return 0.0;
    }
    if (quantile.at(kFarthest) <= value) {
        return 1.0;
    }
    double low = -kFarthest;
    double high = kFarthest;
    for (int i = 0; i < kHalvings; ++i) {
        const double middle = 0.5 * (low + high);
        (quantile.at(middle) <= value ? low : high) = middle;
    }
    return normal_cdf(low);
}

}  // namespace beetwright::num
