// A number that was estimated from a sample, as the Monte Carlo draws it.
//
// A draw must cost a few nanoseconds, because a season is fields x draws of them, so a quantile is
// a polynomial in a standard normal score z:
//  - few degrees of freedom widen z as Student's t does (the first two terms of the Cornish-Fisher
//    expansion, Abramowitz and Stegun 26.7.5);
//  - an amount that cannot be negative is a gamma distribution of the same mean and standard
//    deviation, by the cube-root approximation of Wilson and Hilferty (1931).
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>

namespace beetwright::num {

enum class Support { any, not_negative };

struct Uncertain {
    double mean = 0.0;
    double sd = 0.0;       ///< standard error of the mean
    double freedom = 1e9;  ///< degrees of freedom behind `sd`, at least 1
    Support support = Support::not_negative;
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
/// same expression, so that a loop over draws holds no branch:
///     max(0 or -inf, scale * (centre + slope t)^3)      a gamma amount
///     max(0 or -inf, centre + slope t)                   any other
class UncertainQuantile {
 public:
    explicit UncertainQuantile(const Uncertain& u) : student_(u.freedom) {
        const bool is_gamma = u.support == Support::not_negative && u.mean > 0.0;
        if (is_gamma) {
            const double cv = u.sd / u.mean;
            cubic_ = u.mean;
            centre_ = 1.0 - cv * cv / 9.0;
            slope_ = cv / 3.0;
            return;
        }
        linear_ = 1.0;
        centre_ = u.mean;
        slope_ = u.sd;
        least_ = u.support == Support::not_negative ? 0.0 : -HUGE_VAL;
    }

    /// The value whose chance of not being exceeded is that of the standard normal score z.
    [[nodiscard]] double at(double z) const {
        const double root = std::max(least_, centre_ + slope_ * student_.at(z));
        return root * (linear_ + cubic_ * root * root);
    }

    /// at() of many scores. The spans are of one length.
    void fill(std::span<const double> scores, std::span<double> values) const {
        for (std::size_t i = 0; i < scores.size(); ++i) {
            values[i] = at(scores[i]);
        }
    }

 private:
    StudentScore student_;
    double cubic_ = 0.0;
    double linear_ = 0.0;
    double centre_ = 0.0;
    double slope_ = 0.0;
    double least_ = 0.0;
};

}  // namespace beetwright::num
