// Symmetric positive definite systems on a box: conjugate gradients, preconditioned by multigrid.
//
// Cells are put together by twos, in those directions whose couplings are strong, until few are
// left; a coarse coupling is half the sum of the fine ones it stands for, as if reckoned anew on
// cells twice as long. Values go down as sums and up as constants, and are smoothed by two steps of
// Chebyshev's: all of it plain loops over all cells, in a fixed order, in single precision, the
// gradients too: what they correct is reckoned in double precision before and, where many digits
// are asked for, between. The few cells of the coarsest level are solved by their triangular
// factor. Direct solution throughout was the alternative: in a section of 240 x 24 cells its
// factors alone take longer than a whole solution, and they change every hour.
// docs/methods/pile_air.md.
#pragma once

#include <array>
#include <deque>

#include "num/multigrid_level.hpp"

namespace beetwright::num {

/// Fields along which a solution may lie. One that is nought is passed over.
inline constexpr std::size_t kTries = 3;
using Tries = std::array<Floats, kTries>;

struct SolveOutcome {
    int iterations = 0;
    double residual = 0.0;  ///< Euclidean norm
    bool converged = false;
};

class Multigrid {
 public:
    explicit Multigrid(const Box& box);

    /// The system, to be filled in; `prepare` before solving it.
    [[nodiscard]] SevenPoint& matrix() { return matrix_; }
    /// Works out the coarse systems. No memory is taken after the first call, until `begin_anew`.
    void prepare();
    /// Couplings have come or gone: which cells are put together is to be judged anew.
    void begin_anew();

    /// x of A x = b, from the x that is given, until the residual's norm is `tolerance` (absolute)
    /// or less, or `most` iterations are done. A cell that is in no system has diagonal 1, no
    /// couplings and b = 0.
    SolveOutcome solve(std::span<const double> b, std::span<double> x, double tolerance, int most);
    /// The same, but x is led on first along `tries`, to where it is nearest to the solution in the
    /// norm of the system's energy: where a system changes little from one solution to the next,
    /// the last ones span most of what is to come. Cells in no system are nought in them.
    SolveOutcome solve(std::span<const double> b, std::span<double> x, double tolerance, int most,
                       const Tries& tries);

 private:
    void lay_out();
    void factor_coarsest();
    void solve_coarsest();
    void cycle(std::size_t level);
    /// What takes the finest level's b, of norm 1, down to `goal`, into correction_: the iterations
    /// it took.
    int correct(double goal, int most);
    /// Takes what the tries can do off the finest level's b, into correction_.
    void lead_along(const Tries& tries);
    SolveOutcome solve_along(std::span<const double> b, std::span<double> x, double tolerance,
                             int most, const Tries* tries);

    SevenPoint matrix_;
    std::deque<MultigridLevel> levels_;
    Field rest_;
    Floats direction_, product_, correction_;
    Tries products_;     ///< of tries
    double left_ = 0.0;  ///< of the norm, after correcting
    Field factor_;       ///< of the coarsest level, row by row
    bool is_laid_out_ = false;
};

}  // namespace beetwright::num
