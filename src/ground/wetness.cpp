#include "ground/wetness.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>
#include <queue>

#include "ground/relief.hpp"

namespace beetwright::ground {
namespace {

constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();
constexpr double kLeastFall_m = 1e-6;  // from a filled cell to the next
constexpr double kPower = 1.1;

struct Step {
    std::ptrdiff_t column;
    std::ptrdiff_t row;
    double cells;  // how far
    double side;   // of the border that water crosses, in cells
};
// Quinn, Beven, Chevallier and Planchon, Hydrological Processes 5, 1991, 59-79: half of a side
// across an edge, root two quarters across a corner.
constexpr double kCorner = 0.35355339059327373;
constexpr double kDiagonal = 1.4142135623730951;
constexpr std::array<Step, 8> kAround{{{1, 0, 1.0, 0.5},
                                       {1, 1, kDiagonal, kCorner},
                                       {0, 1, 1.0, 0.5},
                                       {-1, 1, kDiagonal, kCorner},
                                       {-1, 0, 1.0, 0.5},
                                       {-1, -1, kDiagonal, kCorner},
                                       {0, -1, 1.0, 0.5},
                                       {1, -1, kDiagonal, kCorner}}};

/// Calls `use(other, step)` for each known neighbour of a cell; says whether one is not known.
template <class Use>
bool is_at_edge(const Grid& grid, const Layer& heights, std::size_t cell, const Use& use) {
    bool at_edge = false;
    const auto column = static_cast<std::ptrdiff_t>(cell % grid.columns);
    const auto row = static_cast<std::ptrdiff_t>(cell / grid.columns);
    for (const auto& step : kAround) {
        const auto i = column + step.column;
        const auto j = row + step.row;
        if (i < 0 || j < 0 || i >= static_cast<std::ptrdiff_t>(grid.columns) ||
            j >= static_cast<std::ptrdiff_t>(grid.rows)) {
            at_edge = true;
            continue;
        }
        const auto other = grid.at(static_cast<std::size_t>(i), static_cast<std::size_t>(j));
        if (std::isfinite(heights[other])) {
            use(other, step);
        } else {
            at_edge = true;
        }
    }
    return at_edge;
}

}  // namespace

Layer filled(const Grid& grid, const Layer& heights) {
    // From the edge inward, the lowest first: what lies lower than the way in is filled up to it.
    using Reached = std::pair<double, std::size_t>;
    std::priority_queue<Reached, std::vector<Reached>, std::greater<>> reached;
    std::vector<char> is_done(grid.size(), 0);
    Layer full = heights;
    const auto nothing = [](std::size_t, const Step&) {};
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
        if (std::isfinite(heights[cell]) && is_at_edge(grid, heights, cell, nothing)) {
            reached.emplace(heights[cell], cell);
            is_done[cell] = 1;
        }
    }
    while (!reached.empty()) {
        const auto [height, cell] = reached.top();
        const double least = height + kLeastFall_m;
        reached.pop();
        is_at_edge(grid, heights, cell, [&](std::size_t other, const Step&) {
            if (is_done[other] == 0) {
                is_done[other] = 1;
                full[other] = std::max(heights[other], least);
                reached.emplace(full[other], other);
            }
        });
    }
    return full;
}

Layer drained_by(const Grid& grid, const Layer& heights) {
    const Layer full = filled(grid, heights);
    std::vector<std::size_t> order;
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
        if (std::isfinite(full[cell])) {
            order.push_back(cell);
        }
    }
    std::ranges::sort(order, [&](std::size_t a, std::size_t b) {
        return full[a] > full[b] || (full[a] == full[b] && a < b);
    });
    Layer cells(grid.size(), kUnknown);
    for (const auto cell : order) {
        cells[cell] = 1.0;
    }
    for (const auto cell : order) {
        std::array<double, 8> shares{};
        std::array<std::size_t, 8> others{};
        std::size_t count = 0;
        double all = 0.0;
        is_at_edge(grid, full, cell, [&](std::size_t other, const Step& step) {
            const double fall = (full[cell] - full[other]) / (step.cells * grid.cell_m);
            if (fall > 0.0) {
                others[count] = other;
                shares[count] = step.side * std::pow(fall, kPower);
                all += shares[count++];
            }
        });
        for (std::size_t i = 0; i < count; ++i) {
            cells[others[i]] += cells[cell] * shares[i] / all;
        }
    }
    for (auto& one : cells) {
        one *= grid.cell_m;
    }
    return cells;
}

Layer wetness_of(const Grid& grid, const Layer& heights, double least_slope) {
    const Layer drained = drained_by(grid, heights);
    const Layer slopes = slope_of(grid, heights);
    Layer wetness(grid.size(), kUnknown);
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
        if (std::isfinite(drained[cell])) {
            const double slope = std::isfinite(slopes[cell]) ? slopes[cell] : 0.0;
            wetness[cell] = std::log(drained[cell] / std::max(slope, least_slope));
        }
    }
    return wetness;
}

}  // namespace beetwright::ground
