#include "ground/relief.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>

namespace beetwright::ground {
namespace {

constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();

/// Sums of what is known, from a row's beginning up to each column, so that any stretch of a row is
/// one difference.
struct RowSums {
    std::vector<double> sums;    ///< of values, columns + 1 to a row
    std::vector<double> counts;  ///< of those that are known

    RowSums(const Grid& grid, const Layer& values)
        : sums((grid.columns + 1) * grid.rows), counts(sums.size()) {
        for (std::size_t row = 0; row < grid.rows; ++row) {
            const std::size_t begin = row * (grid.columns + 1);
            for (std::size_t column = 0; column < grid.columns; ++column) {
                const double value = values[grid.at(column, row)];
                const bool known = std::isfinite(value);
                sums[begin + column + 1] = sums[begin + column] + (known ? value : 0.0);
                counts[begin + column + 1] = counts[begin + column] + (known ? 1.0 : 0.0);
            }
        }
    }
};

/// Half of a disc's width in each row of it, in cells; rows from the middle up.
std::vector<std::ptrdiff_t> half_widths(double radius_cells) {
    std::vector<std::ptrdiff_t> widths;
    if (radius_cells < 0.0) {
        return widths;
    }
    const auto rows = static_cast<std::size_t>(radius_cells) + 1;
    for (std::size_t k = 0; k < rows; ++k) {
        const auto row = static_cast<double>(k);
        const double half = std::sqrt(radius_cells * radius_cells - row * row);
        widths.push_back(static_cast<std::ptrdiff_t>(std::floor(half + 1e-9)));
    }
    return widths;
}

/// Adds what lies in a disc about a cell, `sign` times.
void add_disc(const Grid& grid, const RowSums& sums, const std::vector<std::ptrdiff_t>& widths,
              std::size_t column, std::size_t row, double sign, double& sum, double& count) {
    const auto columns = static_cast<std::ptrdiff_t>(grid.columns);
    const auto rows = static_cast<std::ptrdiff_t>(grid.rows);
    const auto reach = static_cast<std::ptrdiff_t>(widths.size()) - 1;
    for (std::ptrdiff_t j = -reach; j <= reach; ++j) {
        const std::ptrdiff_t at = static_cast<std::ptrdiff_t>(row) + j;
        if (at < 0 || at >= rows) {
            continue;
        }
        const auto half = widths[static_cast<std::size_t>(std::abs(j))];
        const auto first = std::max<std::ptrdiff_t>(0, static_cast<std::ptrdiff_t>(column) - half);
        const auto last =
            std::min<std::ptrdiff_t>(columns, static_cast<std::ptrdiff_t>(column) + half + 1);
        const auto begin = static_cast<std::size_t>(at * (columns + 1));
        const auto from = begin + static_cast<std::size_t>(first);
        const auto to = begin + static_cast<std::size_t>(last);
        sum += sign * (sums.sums[to] - sums.sums[from]);
        count += sign * (sums.counts[to] - sums.counts[from]);
    }
}

}  // namespace

Layer slope_of(const Grid& grid, const Layer& heights) {
    Layer slopes(grid.size(), kUnknown);
    const auto columns = static_cast<std::ptrdiff_t>(grid.columns);
    const auto rows = static_cast<std::ptrdiff_t>(grid.rows);
    const auto at = [&](std::ptrdiff_t column, std::ptrdiff_t row) {
        return column < 0 || row < 0 || column >= columns || row >= rows
                   ? kUnknown
                   : heights[static_cast<std::size_t>(row * columns + column)];
    };
    /// Mean rise to one cell on, over the three lines beside each other, the middle one counted
    /// twice; along each the difference of both sides, or of the one that there is.
    const auto rise = [&](std::ptrdiff_t column, std::ptrdiff_t row, bool along) {
        double sum = 0.0;
        double weights = 0.0;
        for (std::ptrdiff_t line = -1; line <= 1; ++line) {
            const auto here = [&](std::ptrdiff_t step) {
                return along ? at(column + step, row + line) : at(column + line, row + step);
            };
            const double weight = line == 0 ? 2.0 : 1.0;
            const double before = here(-1);
            const double middle = here(0);
            const double after = here(1);
            double difference = 0.5 * (after - before);
            if (!std::isfinite(difference)) {
                difference = std::isfinite(after) ? after - middle : middle - before;
            }
            if (std::isfinite(difference)) {
                sum += weight * difference;
                weights += weight;
            }
        }
        return weights > 0.0 ? sum / weights : kUnknown;
    };
    for (std::ptrdiff_t row = 0; row < rows; ++row) {
        for (std::ptrdiff_t column = 0; column < columns; ++column) {
            if (std::isfinite(at(column, row))) {
                const double along = rise(column, row, true);
                const double across = rise(column, row, false);
                const bool knows_both = std::isfinite(along) && std::isfinite(across);
                slopes[static_cast<std::size_t>(row * columns + column)] =
                    (knows_both ? std::hypot(along, across)
                                : std::abs(std::isfinite(along) ? along : across)) /
                    grid.cell_m;
            }
        }
    }
    return slopes;
}

Layer position_of(const Grid& grid, const Layer& heights, double inner_m, double outer_m) {
    const RowSums sums(grid, heights);
    const auto outer = half_widths(outer_m / grid.cell_m);
    // Cells nearer than the inner edge; one on it is in the ring.
    const auto inner = half_widths(inner_m / grid.cell_m - 1e-6);
    Layer position(grid.size(), kUnknown);
    for (std::size_t row = 0; row < grid.rows; ++row) {
        for (std::size_t column = 0; column < grid.columns; ++column) {
            const double height = heights[grid.at(column, row)];
            if (!std::isfinite(height)) {
                continue;
            }
            double sum = 0.0;
            double count = 0.0;
            add_disc(grid, sums, outer, column, row, 1.0, sum, count);
            add_disc(grid, sums, inner, column, row, -1.0, sum, count);
            if (count > 0.5) {
                position[grid.at(column, row)] = height - sum / count;
            }
        }
    }
    return position;
}

Layer mean_around(const Grid& grid, const Layer& values, double reach_m) {
    const RowSums sums(grid, values);
    const auto widths = half_widths(reach_m / grid.cell_m);
    Layer means(grid.size(), kUnknown);
    for (std::size_t row = 0; row < grid.rows; ++row) {
        for (std::size_t column = 0; column < grid.columns; ++column) {
            if (!std::isfinite(values[grid.at(column, row)])) {
                continue;
            }
            double sum = 0.0;
            double count = 0.0;
            add_disc(grid, sums, widths, column, row, 1.0, sum, count);
            means[grid.at(column, row)] = sum / count;
        }
    }
    return means;
}

}  // namespace beetwright::ground
