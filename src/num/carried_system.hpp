// A linear system on a box that flow makes one-sided: what implicit steps of carried heat solve.
#pragma once

#include <array>
#include <span>

#include "num/multigrid.hpp"

namespace beetwright::num {

/// Row i: diagonal_i x_i - sum of from_low_i x_below + from_high_i x_above over the directions.
/// Diagonals exceed the sums of their rows.
class CarriedSystem {
 public:
    explicit CarriedSystem(const Box& box);

    Field diagonal;      ///< for `solve`
    Field per_diagonal;  ///< 1 / diagonal; `solve` fills it in
    std::array<Field, kDirections> from_low, from_high;

    /// x of A x = b from nought on, until the residual in the largest-value norm, each row divided
    /// by its diagonal, is `tolerance` or less. Relaxes while that helps quickly, as it does in a
    /// pile's hourly steps; then stabilised bi-conjugate gradients (van der Vorst 1992).
    SolveOutcome solve(std::span<const double> b, std::span<double> x, double tolerance, int most);
    /// The same where the first relaxation is done: `per_diagonal` is filled in, b / diagonal
    /// stands in x, and `first` is the greatest of it.
    SolveOutcome go_on(std::span<const double> b, std::span<double> x, double first,
                       double tolerance, int most);

 private:
    /// A x, each row divided by its diagonal.
    void product(std::span<const double> x, std::span<double> result) const;
    double relax(std::span<const double> b, std::span<const double> x, std::span<double> next);
    SolveOutcome conjugate(std::span<const double> b, std::span<double> x, double tolerance,
                           int most);

    Box box_;
    Field next_, rest_, shadow_, p_, v_, s_, t_;
};

}  // namespace beetwright::num
