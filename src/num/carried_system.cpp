#include "num/carried_system.hpp"

#include <algorithm>
#include <cmath>

#include "num/lanes.hpp"
#include "num/wide.hpp"

namespace beetwright::num {
namespace {

constexpr int kRelaxations = 8;
constexpr double kQuickly = 0.5;  ///< relaxing goes on while it leaves less than this share

BEETWRIGHT_WIDE
void add_neighbours(std::size_t begin, std::size_t end, std::size_t stride, const double* from_low,
                    const double* from_high, const double* x, double* sum) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        sum[i] += from_low[i] * x[i - stride] + from_high[i] * x[i + stride];
    }
}

struct Rows {
    const double* b;
    const double* per_diagonal;
    std::array<const double*, kDirections> from_low{}, from_high{};
    std::array<std::size_t, kDirections> stride{};
};

/// x of each row from its neighbours' before, for a system of two or three directions.
template <std::size_t directions>
inline void relax_rows(const Rows& r, const double* before, double* x, std::size_t begin,
                       std::size_t end) {
    const double* low0 = r.from_low[0];
    const double* high0 = r.from_high[0];
    const double* low1 = r.from_low[1];
    const double* high1 = r.from_high[1];
    const std::size_t s = r.stride[1];
    if constexpr (directions == 2) {
        BEETWRIGHT_APART
        for (std::size_t i = begin; i < end; ++i) {
            const double sum = r.b[i] + (low0[i] * before[i - 1] + high0[i] * before[i + 1]) +
                               (low1[i] * before[i - s] + high1[i] * before[i + s]);
            x[i] = sum * r.per_diagonal[i];
        }
    } else {
        const double* low2 = r.from_low[2];
        const double* high2 = r.from_high[2];
        const std::size_t t = r.stride[2];
        BEETWRIGHT_APART
        for (std::size_t i = begin; i < end; ++i) {
            const double sum = r.b[i] + (low0[i] * before[i - 1] + high0[i] * before[i + 1]) +
                               (low1[i] * before[i - s] + high1[i] * before[i + s]) +
                               (low2[i] * before[i - t] + high2[i] * before[i + t]);
            x[i] = sum * r.per_diagonal[i];
        }
    }
}

/// The greatest of eight lanes of changes.
inline void most_change(const double* before, const double* x, std::size_t begin, std::size_t end,
                        double* most) {
    std::size_t i = begin;
    for (; i + kLanes <= end; i += kLanes) {
        for (std::size_t lane = 0; lane < kLanes; ++lane) {
            const double change = x[i + lane] - before[i + lane];
            const double size = change < 0.0 ? -change : change;
            most[lane] = size > most[lane] ? size : most[lane];
        }
    }
    for (; i < end; ++i) {
        const double change = x[i] - before[i];
        const double size = change < 0.0 ? -change : change;
        most[0] = size > most[0] ? size : most[0];
    }
}

/// A relaxation of all rows; the greatest change.
BEETWRIGHT_WIDE
double relaxed(std::size_t directions, const Rows& r, const double* before, double* x,
               std::size_t begin, std::size_t end) {
    double most[kLanes] = {};
    for (std::size_t from = begin; from < end; from += kBlock) {
        const std::size_t to = from + kBlock < end ? from + kBlock : end;
        if (directions == 2) {
            relax_rows<2>(r, before, x, from, to);
        } else {
            relax_rows<3>(r, before, x, from, to);
        }
        most_change(before, x, from, to, most);
    }
    return greatest_of_lanes(most);
}

/// The first relaxation, from nought.
BEETWRIGHT_WIDE
double relaxed_from_nought(const double* diagonal, const double* b, double* per_diagonal, double* x,
                           std::size_t begin, std::size_t end) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        per_diagonal[i] = 1.0 / diagonal[i];
        x[i] = b[i] * per_diagonal[i];
    }
    double most[kLanes] = {};
    std::size_t i = begin;
    for (; i + kLanes <= end; i += kLanes) {
        for (std::size_t lane = 0; lane < kLanes; ++lane) {
            const double size = x[i + lane] < 0.0 ? -x[i + lane] : x[i + lane];
            most[lane] = size > most[lane] ? size : most[lane];
        }
    }
    for (; i < end; ++i) {
        const double size = x[i] < 0.0 ? -x[i] : x[i];
        most[0] = size > most[0] ? size : most[0];
    }
    return greatest_of_lanes(most);
}

}  // namespace

CarriedSystem::CarriedSystem(const Box& box)
    : diagonal(box.field(1.0)),
      per_diagonal(box.field(1.0)),
      box_(box),
      next_(box.field()),
      rest_(box.field()),
      shadow_(box.field()),
      p_(box.field()),
      v_(box.field()),
      s_(box.field()),
      t_(box.field()) {
    for (std::size_t d = 0; d < box.directions(); ++d) {
        from_low[d] = box.field();
        from_high[d] = box.field();
    }
}

void CarriedSystem::product(std::span<const double> x, std::span<double> result) const {
    std::ranges::fill(result, 0.0);
    for (std::size_t d = 0; d < box_.directions(); ++d) {
        add_neighbours(box_.begin(), box_.end(), box_.stride(kEveryDirection[d]),
                       from_low[d].data(), from_high[d].data(), x.data(), result.data());
    }
    for (std::size_t i = box_.begin(); i < box_.end(); ++i) {
        result[i] = x[i] - per_diagonal[i] * result[i];
    }
}

double CarriedSystem::relax(std::span<const double> b, std::span<const double> x,
                            std::span<double> next) {
    Rows rows{.b = b.data(), .per_diagonal = per_diagonal.data()};
    for (std::size_t d = 0; d < box_.directions(); ++d) {
        rows.from_low[d] = from_low[d].data();
        rows.from_high[d] = from_high[d].data();
        rows.stride[d] = box_.stride(kEveryDirection[d]);
    }
    return relaxed(box_.directions(), rows, x.data(), next.data(), box_.begin(), box_.end());
}

SolveOutcome CarriedSystem::solve(std::span<const double> b, std::span<double> x, double tolerance,
                                  int most) {
    const double first = relaxed_from_nought(diagonal.data(), b.data(), per_diagonal.data(),
                                             x.data(), box_.begin(), box_.end());
    return go_on(b, x, first, tolerance, most);
}

SolveOutcome CarriedSystem::go_on(std::span<const double> b, std::span<double> x, double first,
                                  double tolerance, int most) {
    SolveOutcome outcome;
    double before = 0.0;
    // The change of a relaxation is the residual over the diagonal. They go to and fro between x
    // and next_.
    bool is_in_x = true;
    while (outcome.iterations < most) {
        if (outcome.iterations == 0) {
            outcome.residual = first;
        } else {
            outcome.residual = is_in_x ? relax(b, x, next_) : relax(b, next_, x);
            is_in_x = !is_in_x;
        }
        ++outcome.iterations;
        outcome.converged = outcome.residual <= tolerance;
        if (outcome.converged || (outcome.iterations > 1 && (outcome.residual > kQuickly * before ||
                                                             outcome.iterations >= kRelaxations))) {
            break;
        }
        before = outcome.residual;
    }
    if (!is_in_x) {
        std::ranges::copy(next_, x.begin());
    }
    if (outcome.converged) {
        return outcome;
    }
    auto rest = conjugate(b, x, tolerance, most);
    rest.iterations += outcome.iterations;
    return rest;
}

SolveOutcome CarriedSystem::conjugate(std::span<const double> b, std::span<double> x,
                                      double tolerance, int most) {
    const std::size_t begin = box_.begin();
    const std::size_t end = box_.end();
    SolveOutcome outcome;
    const auto greatest = [&](const Field& of) {
        double size = 0.0;
        for (std::size_t i = begin; i < end; ++i) {
            size = std::max(size, std::abs(of[i]));
        }
        return size;
    };
    // Rows are divided by their diagonals throughout.
    product(x, rest_);
    for (std::size_t i = begin; i < end; ++i) {
        rest_[i] = b[i] * per_diagonal[i] - rest_[i];
        shadow_[i] = rest_[i];
        p_[i] = 0.0;
        v_[i] = 0.0;
    }
    double rho = 1.0;
    double alpha = 1.0;
    double omega = 1.0;
    outcome.residual = greatest(rest_);
    while (outcome.residual > tolerance && outcome.iterations < most) {
        const double rho_now = dot(box_, shadow_, rest_);
        const double beta = rho_now / rho * (alpha / omega);
        rho = rho_now;
        for (std::size_t i = begin; i < end; ++i) {
            p_[i] = rest_[i] + beta * (p_[i] - omega * v_[i]);
        }
        product(p_, v_);
        alpha = rho / dot(box_, shadow_, v_);
        for (std::size_t i = begin; i < end; ++i) {
            s_[i] = rest_[i] - alpha * v_[i];
        }
        product(s_, t_);
        const double size = dot(box_, t_, t_);
        omega = size > 0.0 ? dot(box_, t_, s_) / size : 0.0;
        for (std::size_t i = begin; i < end; ++i) {
            x[i] += alpha * p_[i] + omega * s_[i];
            rest_[i] = s_[i] - omega * t_[i];
        }
        outcome.residual = greatest(rest_);
        ++outcome.iterations;
        if (!(omega != 0.0) || !std::isfinite(outcome.residual)) {
            break;
        }
    }
    outcome.converged = outcome.residual <= tolerance;
    return outcome;
}

}  // namespace beetwright::num
