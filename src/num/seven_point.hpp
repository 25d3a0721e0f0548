// A symmetric system on a box: each cell is coupled to its six neighbours.
#pragma once

#include <array>
#include <span>

#include "num/box.hpp"

namespace beetwright::num {

/// (A x)_i = diagonal_i x_i - sum over neighbours of coupling x_neighbour. `coupling[d][i]` is that
/// between cell i and the next in direction d; nought where there is none.
struct SevenPoint {
    Box box;
    Field diagonal;
    std::array<Field, kDirections> coupling;

    explicit SevenPoint(const Box& of)
        : box(of), diagonal(of.field(1.0)), coupling{of.field(), of.field(), Field()} {
        if (of.directions() == kDirections) {
            coupling[2] = of.field();
        }
    }
};

/// A x, into `product`.
void apply(const SevenPoint& matrix, std::span<const double> x, std::span<double> product);
/// The same, and x A x.
double apply_and_dot(const SevenPoint& matrix, std::span<const double> x,
                     std::span<double> product);
/// b - A x, into `rest`.
void residual(const SevenPoint& matrix, std::span<const double> b, std::span<const double> x,
              std::span<double> rest);

/// Of two fields' cells, in a fixed order of their own.
double dot(const Box& box, std::span<const double> a, std::span<const double> b);

}  // namespace beetwright::num
