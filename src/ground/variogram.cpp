#include "ground/variogram.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "base/contract.hpp"

namespace beetwright::ground {
namespace {

/// Of covariance, for a sill of one.
double correlation(VariogramShape shape, double ratio) {
    switch (shape) {
        case VariogramShape::spherical:
            return ratio >= 1.0 ? 0.0 : 1.0 - ratio * (1.5 - 0.5 * ratio * ratio);
        case VariogramShape::exponential: return std::exp(-ratio);
        case VariogramShape::matern: return (1.0 + ratio) * std::exp(-ratio);
    }
    return 0.0;
}

/// Nugget and sill for one range: a line through classes, held from below at nought.
VariogramFit fit_at(const std::vector<VariogramClass>& classes, VariogramShape shape,
                    double range_m) {
    double w = 0.0;
    double wx = 0.0;
    double wxx = 0.0;
    double wy = 0.0;
    double wxy = 0.0;
    double wyy = 0.0;
    for (const auto& one : classes) {
        const double weight = static_cast<double>(one.pairs) / (one.distance_m * one.distance_m);
        const double x = 1.0 - correlation(shape, one.distance_m / range_m);
        w += weight;
        wx += weight * x;
        wxx += weight * x * x;
        wy += weight * one.semivariance;
        wxy += weight * x * one.semivariance;
        wyy += weight * one.semivariance * one.semivariance;
    }
    const double determinant = w * wxx - wx * wx;
    double nugget = determinant > 1e-14 * w * wxx ? (wy * wxx - wx * wxy) / determinant : 0.0;
    double sill = determinant > 1e-14 * w * wxx ? (w * wxy - wx * wy) / determinant : wxy / wxx;
    if (nugget < 0.0) {
        nugget = 0.0;
        sill = wxy / wxx;
    }
    if (sill < 0.0) {
        sill = 0.0;
        nugget = wy / w;
    }
    const double misfit = wyy - 2.0 * (nugget * wy + sill * wxy) + nugget * nugget * w +
                          2.0 * nugget * sill * wx + sill * sill * wxx;
    return {{shape, nugget, sill, range_m}, misfit};
}

}  // namespace

double Variogram::covariance(double distance_m) const {
    return sill * correlation(shape, distance_m / range_m);
}

std::vector<VariogramClass> empirical_variogram(const std::vector<Point>& places,
                                                const std::vector<double>& values, double cutoff_m,
                                                double width_m) {
    require(places.size() == values.size(), "each place has a value");
    require(cutoff_m > 0.0 && width_m > 0.0, "classes of distance have a width");
    std::vector<VariogramClass> classes(static_cast<std::size_t>(std::ceil(cutoff_m / width_m)));
    // From west to east, so that a pair too far apart ends the search.
    std::vector<std::size_t> order(places.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::sort(
        order, [&](std::size_t a, std::size_t b) { return places[a].east_m < places[b].east_m; });
    for (std::size_t i = 0; i < order.size(); ++i) {
        const auto& a = places[order[i]];
        for (std::size_t j = i + 1; j < order.size(); ++j) {
            const auto& b = places[order[j]];
            const double east = b.east_m - a.east_m;
            if (east > cutoff_m) {
                break;
            }
            const double distance = std::hypot(east, b.north_m - a.north_m);
            if (distance > cutoff_m || distance <= 0.0) {
                continue;
            }
            const double steps = std::ceil(distance / width_m) - 1.0;
            auto& one = classes[static_cast<std::size_t>(steps)];
            const double difference = values[order[i]] - values[order[j]];
            one.distance_m += distance;
            one.semivariance += 0.5 * difference * difference;
            ++one.pairs;
        }
    }
    std::erase_if(classes, [](const VariogramClass& one) { return one.pairs == 0; });
    for (auto& one : classes) {
        one.distance_m /= static_cast<double>(one.pairs);
        one.semivariance /= static_cast<double>(one.pairs);
    }
    return classes;
}

VariogramFit fit_variogram(const std::vector<VariogramClass>& classes, VariogramShape shape) {
    require(classes.size() >= 3, "a variogram is fitted to three classes or more");
    const double nearest = classes.front().distance_m;
    const double farthest = classes.back().distance_m;
    // The misfit may have more than one hollow along the range: looked over, then narrowed down.
    constexpr int kLooks = 60;
    const double least = std::log(0.5 * nearest);
    const double most = std::log(20.0 * farthest);
    const auto misfit_at = [&](double log_range) {
        return fit_at(classes, shape, std::exp(log_range)).misfit;
    };
    const double step = (most - least) / kLooks;
    double best = least;
    double best_misfit = std::numeric_limits<double>::infinity();
    for (int i = 0; i <= kLooks; ++i) {
        const double log_range = least + i * step;
        const double misfit = misfit_at(log_range);
        if (misfit < best_misfit) {
            best = log_range;
            best_misfit = misfit;
        }
    }
    double low = best - step;
    double high = best + step;
    constexpr double kGolden = 0.6180339887498949;
    while (high - low > 1e-9) {
        const double a = high - kGolden * (high - low);
        const double b = low + kGolden * (high - low);
        (misfit_at(a) < misfit_at(b) ? high : low) = misfit_at(a) < misfit_at(b) ? b : a;
    }
    return fit_at(classes, shape, std::exp(0.5 * (low + high)));
}

}  // namespace beetwright::ground
