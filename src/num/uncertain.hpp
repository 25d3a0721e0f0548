// A number that was estimated from a sample, as the Monte Carlo draws it.
//
// A draw must cost a few nanoseconds, because a season is fields x draws of them, so a quantile is
// a polynomial in a standard normal score z:
//  - few degrees of freedom widen z as Student's t does (the first two terms of the Cornish-Fisher
//    expansion, Abramowitz and Stegun 26.7.5);
//  - an amount that cannot be negative is a gamma distribution of the same mean and standard
//    deviation, by the cube-root approximation of Wilson and Hilferty (1931);
//  - a share of more than half is one less such an amount: what is rare there is the rest.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>

#include "num/wide.hpp"

namespace beetwright::num {

enum class Support { any, not_negative, share };

struct Uncertain {
    double mean = 0.0;
    double sd = 0.0;       ///< standard error of the mean
    double freedom = 1e9;  ///< degrees of freedom behind `sd`, at least 1
    Support support = Support::not_negative;

    bool operator==(const Uncertain&) const = default;
};

/// Student's t score with the same chance as the standard normal score z, for many z and one number
/// of degrees of freedom.
class StudentScore {
 public:
    explicit StudentScore(double freedom)
        : first_(0.25 / freedom), second_(1.0 / (96.0 * freedom * freedom)) {}

    [[nodiscard]] double at(double z) const {
        const double z2 = z * z;
        return z * (1.0 + first_ * (z2 + 1.0) + second_ * ((5.0 * z2 + 16.0) * z2 + 3.0));
    }

 private:
    double first_;
    double second_;
};

/// The quantiles of an Uncertain: coefficients worked out once, for many draws. Every case is the
/// same expression, so that a loop over draws holds no branch: with root = centre + slope t, kept
/// within limits,
///     scale * root^3          a gamma amount
///     1 - scale * root^3      one less a gamma amount; its slope is negative
///     root                    any other
class UncertainQuantile {
 public:
    explicit UncertainQuantile(const Uncertain& u) : student_(u.freedom) {
        const bool above_half =
            u.support == Support::share && u.mean > kEvenShare && u.mean < kMostShare;
        const double from_end = above_half ? kMostShare - u.mean : u.mean;
        if (u.support != Support::any && from_end > 0.0) {
            const double cv = u.sd / from_end;
            const double sign = above_half ? -1.0 : 1.0;
            cubic_ = sign * from_end;
            base_ = above_half ? kMostShare : 0.0;
            centre_ = 1.0 - cv * cv / 9.0;
            slope_ = sign * cv / 3.0;
            if (u.support == Support::share) {
                // A hair less, so that rounding its cube does not pass the end.
                most_ = (1.0 - 1e-15) * std::cbrt(kMostShare / from_end);
            }
            return;
        }
        linear_ = 1.0;
        centre_ = u.mean;
        slope_ = u.sd;
        least_ = u.support == Support::any ? -HUGE_VAL : 0.0;
        if (u.support == Support::share) {
            most_ = kMostShare;
        }
    }

    /// The value whose chance of not being exceeded is that of the standard normal score z.
    [[nodiscard]] double at(double z) const {
        return value_of(std::min(most_, std::max(least_, centre_ + slope_ * student_.at(z))));
    }

    /// at() of many scores. The spans are of one length.
    BEETWRIGHT_WIDE void fill(std::span<const double> scores, std::span<double> values) const {
        if (most_ < HUGE_VAL) {
            for (std::size_t i = 0; i < scores.size(); ++i) {
                values[i] = at(scores[i]);
            }
            return;
        }
        // Only shares have an upper limit; the others need not look for it.
        for (std::size_t i = 0; i < scores.size(); ++i) {
            values[i] = value_of(std::max(least_, centre_ + slope_ * student_.at(scores[i])));
        }
    }

 private:
    static constexpr double kEvenShare = 0.5;
    static constexpr double kMostShare = 1.0;

    [[nodiscard]] double value_of(double root) const {
        return base_ + root * (linear_ + cubic_ * root * root);
    }

    StudentScore student_;
    double base_ = 0.0;
    double cubic_ = 0.0;
    double linear_ = 0.0;
    double centre_ = 0.0;
    double slope_ = 0.0;
    double least_ = 0.0;
    double most_ = HUGE_VAL;
};

/// The chance that the number is at most `value`: at() the other way round, to 1e-9. Where at()
/// gives one value to many scores (an amount held at nothing), all of them count.
double chance_at_most(const Uncertain& number, double value);

}  // namespace beetwright::num
