// Multigrid on boxes whose solution is known, and on pile-like ones.
#include "num/multigrid.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "base/random.hpp"

namespace beetwright::num {
namespace {

/// -laplace on the unit square of n x n cells, or cube, with nought on its rim, half a cell from
/// the outermost cells.
void fill_poisson(SevenPoint& matrix, double stretch = 1.0) {
    const Box& box = matrix.box;
    std::ranges::fill(matrix.diagonal, 0.0);
    for (std::size_t j = 0; j < box.along; ++j) {
        for (std::size_t i = 0; i < box.across; ++i) {
            for (std::size_t k = 0; k < box.up; ++k) {
                const std::size_t cell = box.index(i, j, k);
                const std::size_t at[] = {k, i, j};
                for (std::size_t d = 0; d < box.directions(); ++d) {
                    const auto direction = kEveryDirection[d];
                    const double c = d == 0 ? stretch : 1.0;
                    if (at[d] + 1 < box.count(direction)) {
                        matrix.coupling[d][cell] = c;
                        matrix.diagonal[cell] += c;
                        matrix.diagonal[cell + box.stride(direction)] += c;
                    } else {
                        matrix.diagonal[cell] += 2.0 * c;
                    }
                    matrix.diagonal[cell] += at[d] == 0 ? 2.0 * c : 0.0;
                }
            }
        }
    }
}

Field random_field(const Box& box) {
    Field field = box.field();
    RandomStream random(3, "multigrid");
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        field[i] = random.uniform() - 0.5;
    }
    return field;
}

// -laplace u = 1 on the square of side 2a with u = 0 about it: in the middle 0.294685413 a2 and
// 0.140577015 a2 in the mean ([C], by series); the error falls with the square of the cells.
TEST(Multigrid, SquarePoisson) {
    double last_error = 0.0;
    for (const std::size_t n : {16U, 32U, 64U, 128U}) {
        const Box box{.across = n, .along = 1, .up = n};
        Multigrid solver(box);
        fill_poisson(solver.matrix());
        solver.prepare();
        const double side = 2.0 / static_cast<double>(n);
        Field b = box.field();
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            b[i] = side * side;
        }
        Field x = box.field();
        const auto outcome = solver.solve(b, x, 1e-13, 60);
        ASSERT_TRUE(outcome.converged) << outcome.residual;
        double mean = 0.0;
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            mean += x[i] / static_cast<double>(box.cells());
        }
        const double error = std::abs(mean - 0.140577015);
        if (n > 16) {
            EXPECT_NEAR(std::log2(last_error / error), 2.0, 0.1) << n;
        }
        last_error = error;
    }
    EXPECT_LT(last_error, 4e-5);  // 0.54 / 128^2: the order was asserted above
}

// Iterations to twelve digits hardly grow with the cells, whatever their shape.
TEST(Multigrid, NeedsNoMoreIterationsOnMoreCells) {
    struct Case {
        Box box;
        double stretch;
        int most;
    };
    for (const auto& c : {Case{{.across = 32, .along = 1, .up = 32}, 1.0, 20},
                          Case{{.across = 240, .along = 1, .up = 24}, 1.0, 20},
                          Case{{.across = 256, .along = 1, .up = 256}, 1.0, 26},
                          Case{{.across = 61, .along = 1, .up = 27}, 16.0, 22},
                          Case{{.across = 40, .along = 70, .up = 7}, 1.0, 20},
                          Case{{.across = 40, .along = 70, .up = 12}, 9.0, 24}}) {
        Multigrid solver(c.box);
        fill_poisson(solver.matrix(), c.stretch);
        solver.prepare();
        const Field truth = random_field(c.box);
        Field b = c.box.field();
        apply(solver.matrix(), truth, b);
        Field x = c.box.field();
        const double start = std::sqrt(dot(c.box, b, b));
        const auto outcome = solver.solve(b, x, 1e-12 * start, 100);
        EXPECT_TRUE(outcome.converged);
        EXPECT_LE(outcome.iterations, c.most) << c.box.across << " x " << c.box.up;
        for (std::size_t i = c.box.begin(); i < c.box.end(); ++i) {
            ASSERT_NEAR(x[i], truth[i], 1e-8);
        }
    }
}

// A box that is filled from one end: what was judged by a single row of cells is judged anew.
TEST(Multigrid, BeginsAnewAsCellsCome) {
    const Box box{.across = 64, .along = 1, .up = 32};
    Multigrid solver(box);
    solver.prepare();  // nothing is there yet
    for (const std::size_t columns : {1U, 64U}) {
        auto& matrix = solver.matrix();
        fill_poisson(matrix);
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            if ((i - box.begin()) / box.up + 1 >= columns) {
                matrix.coupling[1][i] = 0.0;
            }
            if ((i - box.begin()) / box.up >= columns) {
                matrix.coupling[0][i] = 0.0;
                matrix.diagonal[i] = 1.0;
            }
        }
        solver.begin_anew();
        solver.prepare();
        Field truth = random_field(box);
        for (std::size_t i = box.begin() + columns * box.up; i < box.end(); ++i) {
            truth[i] = 0.0;
        }
        Field b = box.field();
        apply(matrix, truth, b);
        Field x = box.field();
        const auto outcome = solver.solve(b, x, 1e-12 * std::sqrt(dot(box, b, b)), 100);
        EXPECT_TRUE(outcome.converged);
        EXPECT_LE(outcome.iterations, 20) << columns;
        for (std::size_t i = box.begin(); i < box.end(); ++i) {
            ASSERT_NEAR(x[i], truth[i], 1e-9);
        }
    }
}

// What lies in the span of the tries is found without an iteration, to what single precision holds;
// tries that say the same twice, or nothing, do no harm.
TEST(Multigrid, IsLedAlongTries) {
    const Box box{.across = 40, .along = 1, .up = 24};
    Multigrid solver(box);
    fill_poisson(solver.matrix());
    solver.prepare();
    const Field first = random_field(box);
    Field second = box.field();
    Field truth = box.field();
    Tries tries;
    for (auto& of : tries) {
        of.assign(box.room(), 0.0F);
    }
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        second[i] = std::sin(0.1 * static_cast<double>(i));
        truth[i] = 3.0 * first[i] - 0.7 * second[i];
        tries[0][i] = static_cast<float>(first[i]);
        tries[2][i] = static_cast<float>(second[i]);
    }
    Field b = box.field();
    apply(solver.matrix(), truth, b);
    const double start = std::sqrt(dot(box, b, b));
    Field x = box.field();
    EXPECT_EQ(solver.solve(b, x, 1e-4 * start, 100, tries).iterations, 0);
    EXPECT_GT(solver.solve(b, x = box.field(), 1e-4 * start, 100).iterations, 3);
    tries[1] = tries[0];
    const auto outcome = solver.solve(b, x = box.field(), 1e-12 * start, 100, tries);
    EXPECT_TRUE(outcome.converged);
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        ASSERT_NEAR(x[i], truth[i], 1e-8);
    }
}

// Couplings that jump a thousandfold from cell to cell and cells that are in no system at all.
TEST(Multigrid, RaggedCouplings) {
    const Box box{.across = 60, .along = 1, .up = 24};
    Multigrid solver(box);
    fill_poisson(solver.matrix());
    auto& matrix = solver.matrix();
    RandomStream random(4, "ragged");
    Field removed = box.field();
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        removed[i] = random.chance(0.2) ? 1.0 : 0.0;
    }
    std::ranges::fill(matrix.diagonal, 0.0);
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        for (std::size_t d = 0; d < 2; ++d) {
            const std::size_t to = i + box.stride(kEveryDirection[d]);
            auto& c = matrix.coupling[d][i];
            c *= removed[i] + removed[to] > 0.0 ? 0.0 : std::pow(10.0, 3.0 * random.uniform());
            matrix.diagonal[i] += c;
            matrix.diagonal[to] += c;
        }
    }
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        matrix.diagonal[i] = removed[i] > 0.0 ? 1.0 : matrix.diagonal[i] + 0.01;
    }
    solver.prepare();
    Field truth = random_field(box);
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        truth[i] *= 1.0 - removed[i];
    }
    Field b = box.field();
    apply(matrix, truth, b);
    Field x = box.field();
    const auto outcome = solver.solve(b, x, 1e-11, 200);
    EXPECT_TRUE(outcome.converged) << outcome.residual;
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        ASSERT_NEAR(x[i], truth[i], 1e-7);
    }
}

}  // namespace
}  // namespace beetwright::num
