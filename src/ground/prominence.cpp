#include "ground/prominence.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>

#include "num/median.hpp"

namespace beetwright::ground {
namespace {

constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();
constexpr double kBisquare = 4.685;  // 95 % efficient where all is normal
constexpr double kToDeviation = 1.4826;
constexpr int kRounds = 12;

/// Weighted sums of 1, x, y, xx, xy, yy, z, xz, yz.
using Moments = std::array<double, 9>;

/// Sums over all cells before a row and a column, so that those of any window are four numbers.
class Sums {
 public:
    Sums(const Grid& grid, const Layer& heights, const std::vector<double>& weights, double level)
        : columns_(grid.columns), sums_((grid.columns + 1) * (grid.rows + 1)) {
        for (std::size_t row = 0; row < grid.rows; ++row) {
            Moments line{};
            for (std::size_t column = 0; column < grid.columns; ++column) {
                const auto cell = grid.at(column, row);
                if (weights[cell] > 0.0) {
                    const double w = weights[cell];
                    const double x = static_cast<double>(column);
                    const double y = static_cast<double>(row);
                    const double z = heights[cell] - level;
                    const Moments mine{w,         w * x, w * y,     w * x * x, w * x * y,
                                       w * y * y, w * z, w * x * z, w * y * z};
                    for (std::size_t k = 0; k < line.size(); ++k) {
                        line[k] += mine[k];
                    }
                }
                const auto& above = sums_[row * (columns_ + 1) + column + 1];
                auto& here = sums_[(row + 1) * (columns_ + 1) + column + 1];
                for (std::size_t k = 0; k < line.size(); ++k) {
                    here[k] = above[k] + line[k];
                }
            }
        }
    }
    /// Of columns from..to and rows from..to, the last left out.
    [[nodiscard]] Moments of(std::size_t left, std::size_t right, std::size_t low,
                             std::size_t high) const {
        Moments sum{};
        for (std::size_t k = 0; k < sum.size(); ++k) {
            sum[k] = at(right, high)[k] - at(left, high)[k] - at(right, low)[k] + at(left, low)[k];
        }
        return sum;
    }

 private:
    [[nodiscard]] const Moments& at(std::size_t column, std::size_t row) const {
        return sums_[row * (columns_ + 1) + column];
    }
    std::size_t columns_;
    std::vector<Moments> sums_;
};

/// The plane's value at a cell; NaN where too little counts.
double plane_at(const Moments& sums, double x, double y) {
    constexpr double kFewest = 12.0;
    if (sums[0] < kFewest) {
        return kUnknown;
    }
    const double n = sums[0];
    const double mean_x = sums[1] / n;
    const double mean_y = sums[2] / n;
    const double mean_z = sums[6] / n;
    const double xx = sums[3] / n - mean_x * mean_x;
    const double xy = sums[4] / n - mean_x * mean_y;
    const double yy = sums[5] / n - mean_y * mean_y;
    const double xz = sums[7] / n - mean_x * mean_z;
    const double yz = sums[8] / n - mean_y * mean_z;
    const double determinant = xx * yy - xy * xy;
    if (determinant <= 1e-6 * xx * yy) {
        return mean_z;
    }
    return mean_z + (xz * yy - yz * xy) / determinant * (x - mean_x) +
           (yz * xx - xz * xy) / determinant * (y - mean_y);
}

}  // namespace

Layer prominence_of(const Grid& grid, const Layer& heights, double reach_m, double least_m) {
    Layer out(grid.size(), kUnknown);
    std::vector<double> weights(grid.size(), 0.0);
    double level = 0.0;
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
        if (std::isfinite(heights[cell])) {
            weights[cell] = 1.0;
            level = heights[cell];
        }
    }
    const auto reach = static_cast<std::size_t>(std::max(2.0, reach_m / grid.cell_m));
    std::vector<double> sizes;
    for (int round = 0; round < kRounds; ++round) {
        const Sums sums(grid, heights, weights, level);
        sizes.clear();
        for (std::size_t row = 0; row < grid.rows; ++row) {
            for (std::size_t column = 0; column < grid.columns; ++column) {
                const auto cell = grid.at(column, row);
                if (!std::isfinite(heights[cell])) {
                    continue;
                }
                const double plane =
                    level + plane_at(sums.of(column < reach ? 0 : column - reach,
                                             std::min(grid.columns, column + reach + 1),
                                             row < reach ? 0 : row - reach,
                                             std::min(grid.rows, row + reach + 1)),
                                     static_cast<double>(column), static_cast<double>(row));
                out[cell] = std::isfinite(plane) ? heights[cell] - plane : 0.0;
                sizes.push_back(std::abs(out[cell]));
            }
        }
        if (sizes.empty()) {
            break;
        }
        const double usual = std::max(least_m, kToDeviation * num::median_of(sizes));
        for (std::size_t cell = 0; cell < grid.size(); ++cell) {
            if (std::isfinite(heights[cell])) {
                const double far = out[cell] / (kBisquare * usual);
                weights[cell] = std::abs(far) < 1.0 ? (1.0 - far * far) * (1.0 - far * far) : 0.0;
            }
        }
    }
    return out;
}

}  // namespace beetwright::ground
