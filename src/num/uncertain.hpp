// A number that was estimated from a sample, as the Monte Carlo draws it.
//
// A draw must cost a few nanoseconds, because a season is fields x draws of them, so a quantile is
// a polynomial in a standard normal score z:
//  - few degrees of freedom widen z as Student's t does (the first two terms of the Cornish-Fisher
//    expansion, Abramowitz and Stegun 26.7.5);
//  - an amount that cannot be negative is a gamma distribution of the same mean and standard
//    deviation, by the cube-root approximation of Wilson and Hilferty (1931).
#pragma once

#include <cmath>

namespace beetwright::num {

enum class Support { any, not_negative };

struct Uncertain {
    double mean = 0.0;
    double sd = 0.0;       ///< standard error of the mean
    double freedom = 1e9;  ///< degrees of freedom behind `sd`, at least 1
    Support support = Support::not_negative;
};

/// Student's t score with the same chance as the standard normal score z.
inline double student_score(double z, double freedom) {
    const double z2 = z * z;
    const double first = z * (z2 + 1.0) / 4.0;
    const double second = z * ((5.0 * z2 + 16.0) * z2 + 3.0) / 96.0;
    return z + (first + second / freedom) / freedom;
}

/// The coefficients of an Uncertain, worked out once, for many draws.
class UncertainQuantile {
 public:
    explicit UncertainQuantile(const Uncertain& u) : freedom_(u.freedom), floor_(-HUGE_VAL) {
        if (u.support == Support::any || u.mean <= 0.0) {
            linear_ = true;
            centre_ = u.mean;
            slope_ = u.sd;
            if (u.support == Support::not_negative) {
                floor_ = 0.0;
            }
            return;
        }
        const double cv = u.sd / u.mean;
        scale_ = u.mean;
        centre_ = 1.0 - cv * cv / 9.0;
        slope_ = cv / 3.0;
    }

    /// The value whose chance of not being exceeded is that of the standard normal score z.
    [[nodiscard]] double at(double z) const {
        const double root = centre_ + slope_ * student_score(z, freedom_);
        if (linear_) {
            return root > floor_ ? root : floor_;
        }
        return root > 0.0 ? scale_ * root * root * root : 0.0;
    }

 private:
    double freedom_;
    double floor_;
    double scale_ = 1.0;
    double centre_ = 0.0;
    double slope_ = 0.0;
    bool linear_ = false;
};

}  // namespace beetwright::num
