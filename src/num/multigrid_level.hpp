// One level of multigrid: a symmetric system in single precision, its smoothing, and the way to and
// from a level with half the cells. Half the digits take half the time, and a preconditioner needs
// no more: what is left over is reckoned in double precision.
#pragma once

#include <array>
#include <span>
#include <vector>

#include "num/seven_point.hpp"

namespace beetwright::num {

struct MultigridLevel {
    Box box;
    std::array<bool, kDirections> halved{};    ///< of which directions the next level has half
    std::array<Floats, kDirections> coupling;  ///< as SevenPoint's
    Floats excess;                             ///< diagonal less couplings: what ties it outside
    Floats alone;  ///< the finest level's: the same, but of a cell that is coupled to nothing, too
    Floats diagonal, per_diagonal;  ///< of a cell that is in no system: 1
    Floats in_system;               ///< 1; nought where a cell is coupled to nothing
    Floats b, x, next;

    explicit MultigridLevel(const Box& of);

    /// The finest level's system.
    void take(const SevenPoint& matrix);
    /// A level whose cells are those of `fine` put together by twos.
    void gather(const MultigridLevel& fine);

    /// The finest level's system times `of`.
    void multiply(const Floats& of, Floats& product) const;

    /// Two of Chebyshev's steps on x; from x = 0 the first needs no neighbours.
    enum class Way { down, up };
    void smooth(Way way);
    void smooth_from_nought();
    /// b of `coarse`: sums of what is left here.
    void send_rest(MultigridLevel& coarse);
    /// x here grows by that of `coarse`.
    void take_correction(const MultigridLevel& coarse);

 private:
    void set_diagonals();
    void relax(float weight);
};

}  // namespace beetwright::num
