#include "ledger/quantiles.hpp"

#include <algorithm>
#include <cmath>

#include "base/contract.hpp"
#include "base/estimate.hpp"
#include "num/wide.hpp"

namespace beetwright::ledger {
namespace {

using num::kPack;
using num::Pack;

constexpr double kTailChance = (1.0 - kIntervalLevel) / 2.0;
/// Packs worked on side by side, so that none waits for the last one's result.
constexpr std::size_t kAbreast = 2;
constexpr double kDensityThere = 0.1031356;  ///< standard normal density at +- kIntervalZ

struct Moments {
    double mean;
    double sd;
    double skewness;
};

// The order of the sums is fixed, so the answer is too. The first draw is taken off before
// squaring, so that nothing is lost to rounding.
BEETWRIGHT_WIDE Moments moments(std::span<const double> values) {
    Pack sum[kAbreast]{};
    Pack squares[kAbreast]{};
    Pack cubes[kAbreast]{};
    const double origin = values[0];
    const std::size_t whole = values.size() / (kAbreast * kPack) * (kAbreast * kPack);
    for (std::size_t i = 0; i < whole; i += kAbreast * kPack) {
        for (std::size_t k = 0; k < kAbreast; ++k) {
            Pack d;
            num::load(d, &values[i + k * kPack]);
            d -= origin;
            const Pack square = d * d;
            sum[k] += d;
            squares[k] += square;
            cubes[k] += square * d;
        }
    }
    for (std::size_t i = whole; i < values.size(); ++i) {
        const double d = values[i] - origin;
        sum[0][0] += d;
        squares[0][0] += d * d;
        cubes[0][0] += d * d * d;
    }
    const auto mean_of = [&](const Pack* sums) {
        double all = 0.0;
        for (std::size_t k = 0; k < kAbreast; ++k) {
            all += (sums[k][0] + sums[k][1]) + (sums[k][2] + sums[k][3]);
        }
        return all / static_cast<double>(values.size());
    };
    const double shift = mean_of(sum);
    const double variance = std::max(0.0, mean_of(squares) - shift * shift);
    const double third = mean_of(cubes) - shift * (3.0 * variance + shift * shift);
    const double sd = std::sqrt(variance);
    return {origin + shift, sd, sd > 0.0 ? third / (variance * sd) : 0.0};
}

BEETWRIGHT_WIDE std::size_t count_below(std::span<const double> values, double edge) {
    std::size_t count = 0;
    for (const double v : values) {
        count += v < edge ? 1U : 0U;
    }
    return count;
}

/// The values next to an edge that no value equals from below.
struct Neighbours {
    double below;
    double above;
};

BEETWRIGHT_WIDE Neighbours neighbours(std::span<const double> values, double edge) {
    const Pack edges = Pack{} + edge;
    Pack below[kAbreast];
    Pack above[kAbreast];
    std::ranges::fill(below, Pack{} - HUGE_VAL);
    std::ranges::fill(above, Pack{} + HUGE_VAL);
    const std::size_t whole = values.size() / (kAbreast * kPack) * (kAbreast * kPack);
    for (std::size_t i = 0; i < whole; i += kAbreast * kPack) {
        for (std::size_t k = 0; k < kAbreast; ++k) {
            Pack v;
            num::load(v, &values[i + k * kPack]);
            const Pack under = v < edges ? v : below[k];
            const Pack over = v < edges ? above[k] : v;
            below[k] = under > below[k] ? under : below[k];
            above[k] = over < above[k] ? over : above[k];
        }
    }
    Neighbours next{-HUGE_VAL, HUGE_VAL};
    for (std::size_t n = 0; n < kAbreast * kPack; ++n) {
        next.below = std::max(next.below, below[n / kPack][n % kPack]);
        next.above = std::min(next.above, above[n / kPack][n % kPack]);
    }
    for (const double v : values.subspan(whole)) {
        if (v < edge) {
            next.below = std::max(next.below, v);
        } else {
            next.above = std::min(next.above, v);
        }
    }
    return next;
}

/// Where the point at z standard deviations lies in a gamma distribution of this skewness, in its
/// own standard deviations from its mean (Cornish and Fisher, Abramowitz and Stegun 26.2.49).
double bent(double z, double skewness) {
    const double g = skewness;
    return z + g * (z * z - 1.0) / 6.0 + g * g * (z * z * z - 7.0 * z) / 144.0;
}

/// An edge between two order statistics, found by counting the values below one edge after another:
/// a count is many times cheaper than moving values about.
class Bracket {
 public:
    Bracket(std::size_t wanted, double guess, double spacing)
        : wanted_(static_cast<double>(wanted)), edge_(guess), spacing_(spacing) {}

    [[nodiscard]] double edge() const { return edge_; }

    /// Takes the count below the edge and moves the edge; false where there is none to move to.
    bool move(std::size_t count) {
        const auto found = static_cast<double>(count);
        const bool is_low = found < wanted_;
        (is_low ? low_ : high_) = {edge_, found};
        same_side_ = is_low == was_low_ ? same_side_ + 1 : 0;
        was_low_ = is_low;
        spacing_ *= 2.0;
        if (std::isinf(low_.edge)) {
            edge_ = high_.edge - (high_.count - wanted_ + 1.0) * spacing_;
        } else if (std::isinf(high_.edge)) {
            edge_ = low_.edge + (wanted_ - low_.count + 1.0) * spacing_;
        } else {
            // Where one end stays and stays, the values are uneven: the middle gets there then.
            const double share =
                same_side_ > 1 ? 0.5 : (wanted_ - low_.count) / (high_.count - low_.count);
            edge_ = low_.edge + share * (high_.edge - low_.edge);
        }
        return low_.edge < edge_ && edge_ < high_.edge;
    }

 private:
    struct End {
        double edge;
        double count = 0.0;
    };
    double wanted_;
    double edge_;
    double spacing_;  ///< half the step per count that is missing
    bool was_low_ = false;
    int same_side_ = 0;  ///< moves of the same end before the last
    End low_{-HUGE_VAL};
    End high_{HUGE_VAL};
};

}  // namespace

double Summariser::point(std::span<const double> values, double chance, double guess, double sd) {
    const double position = chance * static_cast<double>(values.size() - 1);
    const auto rank = static_cast<std::size_t>(position);
    const double weight = position - static_cast<double>(rank);
    const auto between = [&](double low, double high) { return low + weight * (high - low); };

    constexpr int kMostCounts = 24;
    Bracket bracket(rank + 1, guess,
                    0.5 * sd / (kDensityThere * static_cast<double>(values.size())));
    for (int n = 0; n < kMostCounts; ++n) {
        const std::size_t count = count_below(values, bracket.edge());
        if (count == rank + 1) {
            const auto [below, above] = neighbours(values, bracket.edge());
            return between(below, above);
        }
        if (!bracket.move(count)) {
            break;
        }
    }
    // Equal values, or values too unevenly spread to be found so.
    sorted_.assign(values.begin(), values.end());
    const auto nth = sorted_.begin() + static_cast<std::ptrdiff_t>(rank);
    std::nth_element(sorted_.begin(), nth, sorted_.end());
    return nth + 1 == sorted_.end() ? *nth
                                    : between(*nth, *std::min_element(nth + 1, sorted_.end()));
}

Summary Summariser::operator()(std::span<const double> values) {
    require(!values.empty(), "a summary needs draws");
    const auto [mean, sd, skewness] = moments(values);
    if (!(sd > 1e-13 * std::abs(mean))) {
        return {mean, mean, mean};
    }
    return {mean, point(values, kTailChance, mean + sd * bent(-kIntervalZ, skewness), sd),
            point(values, 1.0 - kTailChance, mean + sd * bent(kIntervalZ, skewness), sd)};
}

}  // namespace beetwright::ledger
