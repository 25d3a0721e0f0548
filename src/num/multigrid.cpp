#include "num/multigrid.hpp"

#include <algorithm>
#include <cmath>

#include "num/wide.hpp"

namespace beetwright::num {
namespace {

// Two Chebyshev steps for eigenvalues of D^-1 A from a quarter of the greatest, 2, up to it: the
// rest of each such error is 0.22 or less.
constexpr std::array<double, 2> kDown{0.5617, 1.3895};
constexpr std::array<double, 2> kUp{1.3895, 0.5617};
constexpr std::size_t kFewCells = 24;
constexpr int kCoarsestSweeps = 8;
/// Of the fine couplings' sum, what couples two coarse cells that are twice as long.
constexpr double kShare = 0.5;
/// A direction is put together where its couplings are at least this share of the strongest.
constexpr double kStrong = 0.3;

double mean_coupling(const SevenPoint& matrix, std::size_t direction) {
    double sum = 0.0;
    double count = 0.0;
    for (std::size_t i = matrix.box.begin(); i < matrix.box.end(); ++i) {
        const double c = matrix.coupling[direction][i];
        sum += c;
        count += c > 0.0 ? 1.0 : 0.0;
    }
    return count > 0.0 ? sum / count : 0.0;
}

/// The directions to put together.
std::array<bool, kDirections> strong_directions(const SevenPoint& matrix) {
    std::array<double, kDirections> mean{};
    double most = 0.0;
    for (std::size_t d = 0; d < matrix.box.directions(); ++d) {
        mean[d] = matrix.box.count(static_cast<Direction>(d)) > 1 ? mean_coupling(matrix, d) : 0.0;
        most = std::max(most, mean[d]);
    }
    std::array<bool, kDirections> strong{};
    for (std::size_t d = 0; d < matrix.box.directions(); ++d) {
        strong[d] = mean[d] > 0.0 && mean[d] >= kStrong * most;
    }
    return strong;
}

BEETWRIGHT_WIDE
void scale_by(std::size_t begin, std::size_t end, double weight, const double* per_diagonal,
              const double* b, double* x) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        x[i] = weight * per_diagonal[i] * b[i];
    }
}

BEETWRIGHT_WIDE
void turn(std::size_t begin, std::size_t end, double keep, const double* z, double* direction) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        direction[i] = z[i] + keep * direction[i];
    }
}

BEETWRIGHT_WIDE
void go(std::size_t begin, std::size_t end, double step, const double* direction,
        const double* product, double* x, double* rest) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        x[i] += step * direction[i];
        rest[i] -= step * product[i];
    }
}

std::size_t half(std::size_t count, bool halved) {
    return halved ? (count + 1) / 2 : count;
}

}  // namespace

Multigrid::Level::Level(const Box& box)
    : matrix(box),
      b(box.field()),
      x(box.field()),
      next(box.field()),
      per_diagonal(box.field(1.0)),
      in_system(box.field()) {}

Multigrid::Multigrid(const Box& box)
    : direction_(box.field()), product_(box.field()), rest_(box.field()), z_(box.field()) {
    levels_.emplace_back(box);
}

void Multigrid::prepare() {
    for (std::size_t l = 0; !is_laid_out_; ++l) {
        const Box box = levels_[l].matrix.box;
        const auto halved = strong_directions(levels_[l].matrix);
        const Box coarse{.across = half(box.across, halved[1]),
                         .along = half(box.along, halved[2]),
                         .up = half(box.up, halved[0])};
        if (box.cells() <= kFewCells || coarse.cells() == box.cells()) {
            is_laid_out_ = true;
            break;
        }
        auto& parent = levels_[l].parent;
        parent.assign(box.room(), 0);
        for (std::size_t j = 0; j < box.along; ++j) {
            for (std::size_t i = 0; i < box.across; ++i) {
                for (std::size_t k = 0; k < box.up; ++k) {
                    const std::size_t to = coarse.index(
                        halved[1] ? i / 2 : i, halved[2] ? j / 2 : j, halved[0] ? k / 2 : k);
                    parent[box.index(i, j, k)] = static_cast<std::uint32_t>(to);
                }
            }
        }
        levels_[l].halved = halved;
        levels_.emplace_back(coarse);
        coarsen(levels_[l], levels_[l + 1]);
    }
    for (std::size_t l = 0; l + 1 < levels_.size(); ++l) {
        coarsen(levels_[l], levels_[l + 1]);
    }
}

void Multigrid::coarsen(Level& fine, Level& coarse) {
    auto& to = coarse.matrix;
    const auto& from = fine.matrix;
    std::ranges::fill(to.diagonal, 0.0);
    for (std::size_t d = 0; d < from.box.directions(); ++d) {
        std::ranges::fill(to.coupling[d], 0.0);
        const std::size_t stride = from.box.stride(static_cast<Direction>(d));
        const double share = fine.halved[d] ? kShare : 1.0;
        for (std::size_t i = from.box.begin(); i < from.box.end(); ++i) {
            const double c = from.coupling[d][i];
            if (c == 0.0) {
                continue;
            }
            const std::size_t a = fine.parent[i];
            const std::size_t b = fine.parent[i + stride];
            // What couples a cell to others is taken from the diagonal here, and comes back below.
            to.diagonal[a] -= c;
            to.diagonal[b] -= c;
            if (a != b) {
                to.coupling[d][a] += share * c;
                to.diagonal[a] += share * c;
                to.diagonal[b] += share * c;
            }
        }
    }
    for (std::size_t i = from.box.begin(); i < from.box.end(); ++i) {
        double coupled = 0.0;
        for (std::size_t d = 0; d < from.box.directions(); ++d) {
            const std::size_t stride = from.box.stride(static_cast<Direction>(d));
            coupled += from.coupling[d][i] + from.coupling[d][i - stride];
        }
        // What is coupled to nothing is in no system.
        fine.in_system[i] = coupled > 0.0 ? 1.0 : 0.0;
        to.diagonal[fine.parent[i]] += fine.in_system[i] * from.diagonal[i];
    }
    // Rounding must not leave a cell without a diagonal where nothing ties it to the outside.
    for (std::size_t i = to.box.begin(); i < to.box.end(); ++i) {
        double coupled = 0.0;
        for (std::size_t d = 0; d < to.box.directions(); ++d) {
            const std::size_t stride = to.box.stride(static_cast<Direction>(d));
            coupled += to.coupling[d][i] + to.coupling[d][i - stride];
        }
        to.diagonal[i] = std::max(to.diagonal[i], coupled);
        if (to.diagonal[i] == 0.0) {
            to.diagonal[i] = 1.0;
        }
        coarse.per_diagonal[i] = 1.0 / to.diagonal[i];
    }
}

void Multigrid::smooth(Level& level, const std::array<double, 2>& weights) {
    for (const double weight : weights) {
        relax(level.matrix, level.per_diagonal, level.b, level.x, weight, level.next);
        level.x.swap(level.next);
    }
}

/// The same from x = 0, where the first step needs no neighbours.
void Multigrid::smooth_from_nought(Level& level) {
    const Box& box = level.matrix.box;
    scale_by(box.begin(), box.end(), kDown[0], level.per_diagonal.data(), level.b.data(),
             level.x.data());
    relax(level.matrix, level.per_diagonal, level.b, level.x, kDown[1], level.next);
    level.x.swap(level.next);
}

void Multigrid::cycle(std::size_t l) {
    auto& level = levels_[l];
    const Box& box = level.matrix.box;
    smooth_from_nought(level);
    if (l + 1 == levels_.size()) {
        for (int sweep = 1; sweep < kCoarsestSweeps; ++sweep) {
            smooth(level, kDown);
        }
        for (int sweep = 0; sweep < kCoarsestSweeps; ++sweep) {
            smooth(level, kUp);
        }
        return;
    }
    residual(level.matrix, level.b, level.x, level.next);
    auto& coarse = levels_[l + 1];
    std::ranges::fill(coarse.b, 0.0);
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        coarse.b[level.parent[i]] += level.next[i];
    }
    cycle(l + 1);
    // What is in no system stays nought: its diagonal of 1 would outweigh all others.
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        level.x[i] += level.in_system[i] * coarse.x[level.parent[i]];
    }
    smooth(level, kUp);
}

void Multigrid::precondition(std::span<const double> residual_now, std::span<double> z) {
    auto& finest = levels_.front();
    std::ranges::copy(residual_now, finest.b.begin());
    cycle(0);
    std::ranges::copy(finest.x, z.begin());
}

SolveOutcome Multigrid::solve(std::span<const double> b, std::span<double> x, double tolerance,
                              int most) {
    const auto& a = levels_.front().matrix;
    const Box& box = a.box;
    auto& finest = levels_.front();
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        finest.per_diagonal[i] = 1.0 / a.diagonal[i];
    }
    SolveOutcome outcome;
    residual(a, b, x, rest_);
    outcome.residual = std::sqrt(dot(box, rest_, rest_));
    double along = 0.0;
    while (outcome.residual > tolerance && outcome.iterations < most) {
        precondition(rest_, z_);
        const double now = dot(box, rest_, z_);
        const double keep = outcome.iterations == 0 ? 0.0 : now / along;
        along = now;
        turn(box.begin(), box.end(), keep, z_.data(), direction_.data());
        apply(a, direction_, product_);
        const double step = along / dot(box, direction_, product_);
        go(box.begin(), box.end(), step, direction_.data(), product_.data(), x.data(),
           rest_.data());
        outcome.residual = std::sqrt(dot(box, rest_, rest_));
        ++outcome.iterations;
    }
    outcome.converged = outcome.residual <= tolerance;
    return outcome;
}

}  // namespace beetwright::num
