// The few distributions the invented season draws from, beside those of RandomStream.
#pragma once

#include <cmath>
#include <cstddef>
#include <span>
#include <vector>

#include "base/random.hpp"

namespace beetwright::demo {

/// A factor with mean 1 whose logarithm has this standard deviation.
inline double factor(RandomStream& stream, double log_sd) {
    return std::exp(log_sd * stream.normal() - 0.5 * log_sd * log_sd);
}

/// Gamma with this mean and shape; its coefficient of variation is 1 / sqrt(shape).
inline double gamma_about(RandomStream& stream, double mean, double shape) {
    return mean * stream.gamma(shape) / shape;
}

/// Shares about the given mean shares (Dirichlet). The larger the concentration, the closer; the
/// correlation of two beets of a spot is 1 / (concentration + 1).
inline std::vector<double> shares_about(RandomStream& stream, std::span<const double> mean,
                                        double concentration) {
    std::vector<double> shares;
    double sum = 0.0;
    for (const double share : mean) {
        shares.push_back(share > 0.0 ? stream.gamma(concentration * share) : 0.0);
        sum += shares.back();
    }
    for (double& share : shares) {
        share /= sum;
    }
    return shares;
}

/// One share about its mean, likewise (beta).
inline double share_about(RandomStream& stream, double mean, double concentration) {
    if (mean <= 0.0 || mean >= 1.0) {
        return mean;
    }
    return stream.beta(concentration * mean, concentration * (1.0 - mean));
}

/// Which class a uniform number falls into.
inline std::size_t pick(RandomStream& stream, std::span<const double> shares) {
    double left = stream.uniform();
    for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
        left -= shares[i];
        if (left < 0.0) {
            return i;
        }
    }
    return shares.size() - 1;
}

}  // namespace beetwright::demo
