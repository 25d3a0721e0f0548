#include "ledger/quantiles.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "base/contract.hpp"
#include "base/estimate.hpp"

namespace beetwright::ledger {
namespace {

constexpr double kTailChance = (1.0 - kIntervalLevel) / 2.0;

// Four running sums let the compiler keep four additions in flight; their order is fixed, so the
// answer is too.
double sum(std::span<const double> values) {
    double part[4] = {0.0, 0.0, 0.0, 0.0};
    std::size_t i = 0;
    for (; i + 4 <= values.size(); i += 4) {
        for (std::size_t k = 0; k < 4; ++k) {
            part[k] += values[i + k];
        }
    }
    for (; i < values.size(); ++i) {
        part[0] += values[i];
    }
    return (part[0] + part[1]) + (part[2] + part[3]);
}

double sum_of_squares_about(std::span<const double> values, double centre) {
    double part[4] = {0.0, 0.0, 0.0, 0.0};
    std::size_t i = 0;
    for (; i + 4 <= values.size(); i += 4) {
        for (std::size_t k = 0; k < 4; ++k) {
            const double d = values[i + k] - centre;
            part[k] += d * d;
        }
    }
    for (; i < values.size(); ++i) {
        part[0] += (values[i] - centre) * (values[i] - centre);
    }
    return (part[0] + part[1]) + (part[2] + part[3]);
}

// The order statistic with `rank` values below it, and the next, blended.
double interpolate(std::vector<double>& sorted_part, std::size_t rank, double weight) {
    const auto nth = sorted_part.begin() + static_cast<std::ptrdiff_t>(rank);
    std::nth_element(sorted_part.begin(), nth, sorted_part.end());
    const double at = *nth;
    if (weight == 0.0 || nth + 1 == sorted_part.end()) {
        return at;
    }
    const double next = *std::min_element(nth + 1, sorted_part.end());
    return at + weight * (next - at);
}

// The kTailChance point of sign * values. Only values below a threshold that surely holds enough
// of them are sorted; about one in six of a bell-shaped sample.
double lower_point(std::span<const double> values, double sign, double threshold,
                   std::vector<double>& tail) {
    const double position = kTailChance * static_cast<double>(values.size() - 1);
    const auto rank = static_cast<std::size_t>(position);
    tail.resize(values.size());
    std::size_t kept = 0;
    for (const double v : values) {
        tail[kept] = sign * v;
        kept += sign * v <= threshold ? 1 : 0;
    }
    if (kept < rank + 2) {  // a long-tailed sample: take them all
        kept = values.size();
        std::ranges::transform(values, tail.begin(), [sign](double v) { return sign * v; });
    }
    tail.resize(kept);
    return interpolate(tail, rank, position - static_cast<double>(rank));
}

}  // namespace

Summary Summariser::operator()(std::span<const double> values) {
    require(!values.empty(), "a summary needs draws");
    const auto count = static_cast<double>(values.size());
    const double mean = sum(values) / count;
    const double sd = std::sqrt(sum_of_squares_about(values, mean) / count);
    if (!(sd > 1e-14 * std::abs(mean))) {
        return {mean, mean, mean};
    }
    const double reach = 1.05 * sd;
    const double low = lower_point(values, 1.0, mean - reach, tail_);
    const double high = -lower_point(values, -1.0, -(mean + reach), tail_);
    return {mean, low, high};
}

}  // namespace beetwright::ledger
