#include "ground/patches.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "ground/relief.hpp"

namespace beetwright::ground {
namespace {

/// Neighbours across an edge.
template <class Use>
void beside(const Grid& grid, std::size_t cell, const Use& use) {
    const std::size_t column = cell % grid.columns;
    const std::size_t row = cell / grid.columns;
    if (column > 0) {
        use(cell - 1);
    }
    if (column + 1 < grid.columns) {
        use(cell + 1);
    }
    if (row > 0) {
        use(cell - grid.columns);
    }
    if (row + 1 < grid.rows) {
        use(cell + grid.columns);
    }
}

/// Connected pieces of what is marked, each in the order of its cells.
std::vector<std::vector<std::size_t>> pieces_of(const Grid& grid, std::vector<bool> marked) {
    std::vector<std::vector<std::size_t>> pieces;
    for (std::size_t first = 0; first < grid.size(); ++first) {
        if (!marked[first]) {
            continue;
        }
        auto& piece = pieces.emplace_back();
        piece.push_back(first);
        marked[first] = false;
        for (std::size_t i = 0; i < piece.size(); ++i) {
            beside(grid, piece[i], [&](std::size_t other) {
                if (marked[other]) {
                    marked[other] = false;
                    piece.push_back(other);
                }
            });
        }
        std::ranges::sort(piece);
    }
    return pieces;
}

/// Along each row, gaps shorter than a stretch are closed, then stretches shorter than one dropped.
void straighten(const Grid& grid, std::vector<bool>& marked, std::size_t stretch) {
    for (const bool closes : {true, false}) {
        for (std::size_t row = 0; row < grid.rows; ++row) {
            std::size_t begin = 0;
            while (begin < grid.columns) {
                const bool is = marked[grid.at(begin, row)];
                std::size_t end = begin;
                while (end < grid.columns && marked[grid.at(end, row)] == is) {
                    ++end;
                }
                const bool is_inner = begin > 0 && end < grid.columns;
                if (end - begin < stretch && ((closes && !is && is_inner) || (!closes && is))) {
                    for (std::size_t column = begin; column < end; ++column) {
                        marked[grid.at(column, row)] = closes;
                    }
                }
                begin = end;
            }
        }
    }
}

/// What squares of this side cover that lie in what is marked.
std::vector<bool> wide_part(const Grid& grid, const std::vector<bool>& marked, double side_m) {
    const auto side =
        std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(side_m / grid.cell_m - 1e-9)));
    std::vector<bool> wide(grid.size(), false);
    for (std::size_t row = 0; row + side <= grid.rows; ++row) {
        for (std::size_t column = 0; column + side <= grid.columns; ++column) {
            const auto all = [&](const auto& use) {
                for (std::size_t j = row; j < row + side; ++j) {
                    for (std::size_t i = column; i < column + side; ++i) {
                        use(grid.at(i, j));
                    }
                }
            };
            bool fits = true;
            all([&](std::size_t cell) { fits = fits && marked[cell]; });
            if (fits) {
                all([&](std::size_t cell) { wide[cell] = true; });
            }
        }
    }
    return wide;
}

/// Holes that nothing but this encloses belong to it.
void close_holes(const Grid& grid, std::vector<bool>& marked) {
    std::vector<bool> others(grid.size());
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
        others[cell] = !marked[cell];
    }
    for (const auto& piece : pieces_of(grid, others)) {
        const bool touches_edge = std::ranges::any_of(piece, [&](std::size_t cell) {
            const std::size_t column = cell % grid.columns;
            const std::size_t row = cell / grid.columns;
            return column == 0 || row == 0 || column + 1 == grid.columns || row + 1 == grid.rows;
        });
        if (!touches_edge) {
            for (const auto cell : piece) {
                marked[cell] = true;
            }
        }
    }
}

/// Knolls of a layer, or of its opposite the hollows.
void add_patches(const Grid& grid, const Layer& prominence, double sign, const PatchWish& wish,
                 std::vector<Patch>& patches) {
    std::vector<bool> marked(grid.size());
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
        marked[cell] = sign * prominence[cell] > wish.least_m;
    }
    // The top is that of a mean over a few cells, so that no single height makes it.
    const Layer smooth = mean_around(grid, prominence, 1.5 * grid.cell_m);
    std::vector<bool> halves(grid.size(), false);
    for (const auto& piece : pieces_of(grid, marked)) {
        double peak = 0.0;
        for (const auto cell : piece) {
            peak = std::max(peak, sign * smooth[cell]);
        }
        for (const auto cell : piece) {
            halves[cell] = sign * prominence[cell] > std::max(wish.least_m, 0.5 * peak);
        }
    }
    close_holes(grid, halves);
    straighten(grid, halves,
               static_cast<std::size_t>(std::ceil(wish.stretch_m / grid.cell_m - 1e-9)));
    const auto wide = wide_part(grid, halves, wish.width_m);
    for (std::size_t cell = 0; cell < grid.size(); ++cell) {
        halves[cell] = halves[cell] && wide[cell] && std::isfinite(prominence[cell]);
    }
    for (auto& piece : pieces_of(grid, halves)) {
        Patch patch{sign > 0.0 ? Lie::knoll : Lie::hollow, std::move(piece), 0.0, 0.0};
        for (const auto cell : patch.cells) {
            patch.peak_m = std::max(patch.peak_m, sign * smooth[cell]);
            patch.mean_m += prominence[cell] / static_cast<double>(patch.cells.size());
        }
        const double long_enough = wish.stretch_m * wish.width_m;
        if (static_cast<double>(patch.cells.size()) * grid.cell_m * grid.cell_m >= long_enough &&
            patch.peak_m > wish.least_m) {
            patches.push_back(std::move(patch));
        }
    }
}

}  // namespace

std::string_view words(Lie lie) {
    switch (lie) {
        case Lie::level: return "level ground";
        case Lie::knoll: return "knoll";
        case Lie::hollow: return "hollow";
    }
    return "";
}

std::vector<Patch> patches_of(const Grid& grid, const Layer& prominence, const PatchWish& wish) {
    std::vector<Patch> patches;
    add_patches(grid, prominence, 1.0, wish, patches);
    add_patches(grid, prominence, -1.0, wish, patches);
    std::ranges::stable_sort(
        patches, [](const Patch& a, const Patch& b) { return a.cells.size() > b.cells.size(); });
    return patches;
}

}  // namespace beetwright::ground
