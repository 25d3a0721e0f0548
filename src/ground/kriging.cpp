#include "ground/kriging.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/contract.hpp"
#include "num/cholesky.hpp"

namespace beetwright::ground {
namespace {

double distance_m(const Point& a, const Point& b) {
    return std::hypot(b.east_m - a.east_m, b.north_m - a.north_m);
}

}  // namespace

Kriging::Kriging(std::vector<Measured> values, const Variogram& variogram, std::size_t nearest)
    : values_(std::move(values)),
      variogram_(variogram),
      nearest_(std::min(nearest, values_.size())) {
    require(!values_.empty() && nearest > 0, "kriging needs a value");
    corner_ = values_.front().at;
    Point most = corner_;
    for (const auto& one : values_) {
        corner_.east_m = std::min(corner_.east_m, one.at.east_m);
        corner_.north_m = std::min(corner_.north_m, one.at.north_m);
        most.east_m = std::max(most.east_m, one.at.east_m);
        most.north_m = std::max(most.north_m, one.at.north_m);
    }
    // Blocks of about two values each.
    const double east = most.east_m - corner_.east_m;
    const double north = most.north_m - corner_.north_m;
    const double count = static_cast<double>(values_.size());
    block_m_ = std::max({std::sqrt(2.0 * east * north / count), (east + north) / count, 1e-6});
    columns_ = static_cast<std::size_t>(east / block_m_) + 1;
    rows_ = static_cast<std::size_t>(north / block_m_) + 1;
    const auto block_of = [&](const Point& at) {
        return static_cast<std::size_t>((at.north_m - corner_.north_m) / block_m_) * columns_ +
               static_cast<std::size_t>((at.east_m - corner_.east_m) / block_m_);
    };
    std::ranges::stable_sort(values_, {}, [&](const Measured& one) { return block_of(one.at); });
    begins_.assign(columns_ * rows_ + 1, 0);
    for (const auto& one : values_) {
        ++begins_[block_of(one.at) + 1];
    }
    for (std::size_t i = 1; i < begins_.size(); ++i) {
        begins_[i] += begins_[i - 1];
    }
}

std::vector<std::size_t> Kriging::nearest_to(const Point& place) const {
    // Rings of blocks outward until what is still outside must be farther than all that is wanted.
    const auto column =
        static_cast<std::ptrdiff_t>(std::floor((place.east_m - corner_.east_m) / block_m_));
    const auto row =
        static_cast<std::ptrdiff_t>(std::floor((place.north_m - corner_.north_m) / block_m_));
    const auto columns = static_cast<std::ptrdiff_t>(columns_);
    const auto rows = static_cast<std::ptrdiff_t>(rows_);
    const std::ptrdiff_t first_ring =
        std::max({std::ptrdiff_t{0}, -column, column - columns + 1, -row, row - rows + 1});
    const std::ptrdiff_t last_ring =
        std::max(std::max(std::abs(column), std::abs(columns - column)),
                 std::max(std::abs(row), std::abs(rows - row)));
    std::vector<std::pair<double, std::size_t>> found;
    const auto look_in = [&](std::ptrdiff_t i, std::ptrdiff_t j) {
        if (i < 0 || j < 0 || i >= columns || j >= rows) {
            return;
        }
        const auto block = static_cast<std::size_t>(j * columns + i);
        for (std::size_t k = begins_[block]; k < begins_[block + 1]; ++k) {
            found.emplace_back(distance_m(place, values_[k].at), k);
        }
    };
    for (std::ptrdiff_t ring = first_ring; ring <= last_ring; ++ring) {
        for (std::ptrdiff_t i = -ring; i <= ring; ++i) {
            look_in(column + i, row - ring);
            if (ring > 0) {
                look_in(column + i, row + ring);
            }
        }
        for (std::ptrdiff_t j = -ring + 1; j < ring; ++j) {
            look_in(column - ring, row + j);
            look_in(column + ring, row + j);
        }
        if (found.size() >= nearest_) {
            std::ranges::nth_element(found,
                                     found.begin() + static_cast<std::ptrdiff_t>(nearest_ - 1));
            if (found[nearest_ - 1].first <= static_cast<double>(ring) * block_m_) {
                break;
            }
        }
    }
    std::ranges::sort(found);
    found.resize(std::min(found.size(), nearest_));
    std::vector<std::size_t> nearest;
    for (const auto& one : found) {
        nearest.push_back(one.second);
    }
    return nearest;
}

Kriged Kriging::at(const Point& place) const {
    const auto near = nearest_to(place);
    const std::size_t n = near.size();
    std::vector<double> matrix(n * n);
    std::vector<double> to_place(n);
    std::vector<double> ones(n, 1.0);
    for (std::size_t i = 0; i < n; ++i) {
        const auto& a = values_[near[i]];
        for (std::size_t j = 0; j < i; ++j) {
            matrix[i * n + j] = variogram_.covariance(distance_m(a.at, values_[near[j]].at));
        }
        // What makes places that coincide, or all but, solvable where nothing is said of errors.
        matrix[i * n + i] = variogram_.sill * (1.0 + 1e-10) + a.variance;
        to_place[i] = variogram_.covariance(distance_m(a.at, place));
    }
    if (variogram_.sill <= 0.0) {
        // All the same but for errors: their mean.
        double weights = 0.0;
        double sum = 0.0;
        for (const auto k : near) {
            const double weight = 1.0 / std::max(values_[k].variance, 1e-12);
            weights += weight;
            sum += weight * values_[k].value;
        }
        return {sum / weights, 1.0 / weights};
    }
    const auto factor = num::Cholesky::of(matrix, n);
    require(factor.has_value(), "covariances of a variogram are positive definite");
    std::vector<double> weights = to_place;
    factor->solve(weights);
    factor->solve(ones);
    double sum_weights = 0.0;
    double sum_ones = 0.0;
    double explained = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        sum_weights += weights[i];
        sum_ones += ones[i];
        explained += weights[i] * to_place[i];
    }
    const double lagrange = (1.0 - sum_weights) / sum_ones;
    Kriged kriged;
    for (std::size_t i = 0; i < n; ++i) {
        kriged.value += (weights[i] + lagrange * ones[i]) * values_[near[i]].value;
    }
    kriged.variance = std::max(0.0, variogram_.sill - explained + lagrange * (1.0 - sum_weights));
    return kriged;
}

}  // namespace beetwright::ground
