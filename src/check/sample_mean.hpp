// The mean of a few samples of one field, with a usual spread to lean on where they are few.
#pragma once

#include <cmath>
#include <span>

#include "num/uncertain.hpp"

namespace beetwright::check {

/// The mean of samples whose single standard deviation is usually `usual_sd`, known as well as from
/// `usual_freedom` degrees of freedom. The samples' own variance is blended in by theirs, so one
/// sample rests on the usual spread alone and many on their own.
inline num::Uncertain mean_of_samples(std::span<const double> samples, double usual_sd,
                                      double usual_freedom,
                                      num::Support support = num::Support::not_negative) {
    const auto n = static_cast<double>(samples.size());
    double sum = 0.0;
    for (const double value : samples) {
        sum += value;
    }
    const double mean = sum / n;
    double squares = 0.0;
    for (const double value : samples) {
        squares += (value - mean) * (value - mean);
    }
    const double freedom = n - 1.0 + usual_freedom;
    const double variance = (squares + usual_freedom * usual_sd * usual_sd) / freedom;
    return {mean, std::sqrt(variance / n), freedom, support};
}

}  // namespace beetwright::check
