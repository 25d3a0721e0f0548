#include "num/carried_system.hpp"

#include <algorithm>
#include <cmath>

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

BEETWRIGHT_WIDE
double divide(std::size_t begin, std::size_t end, const double* diagonal, const double* before,
              double* x) {
    double most[4] = {};
    std::size_t i = begin;
    for (; i + 4 <= end; i += 4) {
        for (std::size_t lane = 0; lane < 4; ++lane) {
            x[i + lane] /= diagonal[i + lane];
            const double change = x[i + lane] - before[i + lane];
            const double size = change < 0.0 ? -change : change;
            most[lane] = size > most[lane] ? size : most[lane];
        }
    }
    for (; i < end; ++i) {
        x[i] /= diagonal[i];
        most[0] = std::max(most[0], std::abs(x[i] - before[i]));
    }
    return std::max(std::max(most[0], most[1]), std::max(most[2], most[3]));
}

}  // namespace

CarriedSystem::CarriedSystem(const Box& box)
    : diagonal(box.field(1.0)),
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
        add_neighbours(box_.begin(), box_.end(), box_.stride(static_cast<Direction>(d)),
                       from_low[d].data(), from_high[d].data(), x.data(), result.data());
    }
    for (std::size_t i = box_.begin(); i < box_.end(); ++i) {
        result[i] = diagonal[i] * x[i] - result[i];
    }
}

double CarriedSystem::relax(std::span<const double> b, std::span<const double> x,
                            std::span<double> next) {
    std::ranges::copy(b, next.begin());
    for (std::size_t d = 0; d < box_.directions(); ++d) {
        add_neighbours(box_.begin(), box_.end(), box_.stride(static_cast<Direction>(d)),
                       from_low[d].data(), from_high[d].data(), x.data(), next.data());
    }
    return divide(box_.begin(), box_.end(), diagonal.data(), x.data(), next.data());
}

SolveOutcome CarriedSystem::solve(std::span<const double> b, std::span<double> x, double tolerance,
                                  int most) {
    std::ranges::fill(x, 0.0);
    SolveOutcome outcome;
    double before = 0.0;
    while (outcome.iterations < most) {
        // The change of a relaxation is the residual over the diagonal.
        outcome.residual = relax(b, x, next_);
        std::ranges::copy(next_, x.begin());
        ++outcome.iterations;
        if (outcome.residual <= tolerance) {
            outcome.converged = true;
            return outcome;
        }
        if (outcome.iterations > 1 &&
            (outcome.residual > kQuickly * before || outcome.iterations >= kRelaxations)) {
            break;
        }
        before = outcome.residual;
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
    const auto scaled_product = [&](const Field& of, Field& into) {
        product(of, into);
        for (std::size_t i = begin; i < end; ++i) {
            into[i] /= diagonal[i];
        }
    };
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
        rest_[i] = (b[i] - rest_[i]) / diagonal[i];
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
        scaled_product(p_, v_);
        alpha = rho / dot(box_, shadow_, v_);
        for (std::size_t i = begin; i < end; ++i) {
            s_[i] = rest_[i] - alpha * v_[i];
        }
        scaled_product(s_, t_);
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
