#include "ledger/quantiles.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "base/contract.hpp"
#include "base/estimate.hpp"

namespace beetwright::ledger {
namespace {

constexpr double kTailChance = (1.0 - kIntervalLevel) / 2.0;

/// The 5 % point lies about here, in standard deviations below the mean, for a sample of this
/// skewness (Cornish and Fisher); draws as far as kMargin inside it are looked at too.
constexpr double kMargin = 0.28;

struct Moments {
    double mean;
    double sd;
    double skewness;
};

// Four running sums let the processor keep four additions in flight; their order is fixed, so the
// answer is too. The first draw is taken off before squaring, so that nothing is lost to rounding.
Moments moments(std::span<const double> values) {
    constexpr std::size_t kLanes = 4;
    std::array<double, kLanes> sum{};
    std::array<double, kLanes> squares{};
    std::array<double, kLanes> cubes{};
    const double origin = values[0];
    const std::size_t whole = values.size() / kLanes * kLanes;
    const auto take = [&](std::size_t lane, double value) {
        const double d = value - origin;
        sum[lane] += d;
        squares[lane] += d * d;
        cubes[lane] += d * d * d;
    };
    for (std::size_t i = 0; i < whole; i += kLanes) {
        for (std::size_t k = 0; k < kLanes; ++k) {
            take(k, values[i + k]);
        }
    }
    for (std::size_t i = whole; i < values.size(); ++i) {
        take(0, values[i]);
    }
    const auto mean_of = [&](const std::array<double, kLanes>& lanes) {
        return ((lanes[0] + lanes[1]) + (lanes[2] + lanes[3])) / static_cast<double>(values.size());
    };
    const double shift = mean_of(sum);
    const double variance = std::max(0.0, mean_of(squares) - shift * shift);
    const double third = mean_of(cubes) - shift * (3.0 * variance + shift * shift);
    const double sd = std::sqrt(variance);
    return {origin + shift, sd, sd > 0.0 ? third / (variance * sd) : 0.0};
}

// The order statistic with `rank` values below it, and the next, blended.
double blended(std::span<double> values, std::size_t rank, double weight) {
    const auto nth = values.begin() + static_cast<std::ptrdiff_t>(rank);
    std::nth_element(values.begin(), nth, values.end());
    if (weight == 0.0 || nth + 1 == values.end()) {
        return *nth;
    }
    const double next = *std::min_element(nth + 1, values.end());
    return *nth + weight * (next - *nth);
}

// The kTailChance point of sign * values, whose lowest `count` stand in `tail`; where those are too
// few, as in a sample with one long tail, all of them are taken.
double tail_point(std::span<const double> values, double sign, std::span<double> tail,
                  std::size_t count) {
    const double position = kTailChance * static_cast<double>(values.size() - 1);
    const auto rank = static_cast<std::size_t>(position);
    if (count < rank + 2) {
        count = values.size();
        std::ranges::transform(values, tail.begin(), [sign](double v) { return sign * v; });
    }
    return sign * blended(tail.first(count), rank, position - static_cast<double>(rank));
}

}  // namespace

Summary Summariser::operator()(std::span<const double> values) {
    require(!values.empty(), "a summary needs draws");
    const auto [mean, sd, skewness] = moments(values);
    if (!(sd > 1e-13 * std::abs(mean))) {
        return {mean, mean, mean};
    }
    low_tail_.resize(values.size());
    high_tail_.resize(values.size());
    constexpr double kBend = (kIntervalZ * kIntervalZ - 1.0) / 6.0;
    const double low_edge = mean + sd * (kBend * skewness - (kIntervalZ - kMargin));
    const double high_edge = mean + sd * (kBend * skewness + (kIntervalZ - kMargin));
    std::size_t low_count = 0;
    std::size_t high_count = 0;
    for (const double v : values) {
        // Written always, counted sometimes: no branch to guess wrong.
        low_tail_[low_count] = v;
        low_count += v <= low_edge ? 1 : 0;
        high_tail_[high_count] = -v;
        high_count += v >= high_edge ? 1 : 0;
    }
    const double low = tail_point(values, 1.0, low_tail_, low_count);
    const double high = tail_point(values, -1.0, high_tail_, high_count);
    return {mean, low, high};
}

}  // namespace beetwright::ledger
