// Symmetric positive definite systems on a box: conjugate gradients, preconditioned by multigrid.
//
// Cells are put together by twos, in those directions whose couplings are strong, until few are
// left; a coarse coupling is a little more than half the sum of the fine ones it stands for, as if
// reckoned anew on cells twice as long. Values go down as sums and up as constants, and are
// smoothed by two steps of Chebyshev's: all of it plain loops over all cells, in a fixed order.
// Direct solution was the alternative: in a section of 240 x 24 cells its factors alone take as
// long as five of these solutions, and they change every hour. docs/methods/pile_air.md.
#pragma once

#include <cstdint>
#include <deque>
#include <vector>

#include "num/seven_point.hpp"

namespace beetwright::num {

struct SolveOutcome {
    int iterations = 0;
    double residual = 0.0;  ///< Euclidean norm
    bool converged = false;
};

class Multigrid {
 public:
    explicit Multigrid(const Box& box);

    /// The system, to be filled in; `prepare` before solving it.
    [[nodiscard]] SevenPoint& matrix() { return levels_.front().matrix; }
    /// Works out the coarse systems. No memory is taken after the first call on a box.
    void prepare();

    /// x of A x = b, from the x that is given, until the residual's norm is `tolerance` (absolute)
    /// or less, or `most` iterations are done. A cell that is in no system has diagonal 1, no
    /// couplings and b = 0.
    SolveOutcome solve(std::span<const double> b, std::span<double> x, double tolerance, int most);

 private:
    struct Level {
        explicit Level(const Box& box);
        SevenPoint matrix;
        std::vector<std::uint32_t> parent;  ///< of each cell in the next level
        std::array<bool, kDirections> halved{};
        Field b, x, next, per_diagonal;
        Field in_system;  ///< 1; nought where a cell is coupled to nothing
    };
    void coarsen(Level& fine, Level& coarse);
    static void smooth(Level& level, const std::array<double, 2>& weights);
    static void smooth_from_nought(Level& level);
    void cycle(std::size_t level);
    void precondition(std::span<const double> residual, std::span<double> z);

    std::deque<Level> levels_;  ///< a deque: `matrix()` stays where it is as levels are added
    Field direction_, product_, rest_, z_;
    bool is_laid_out_ = false;
};

}  // namespace beetwright::num
