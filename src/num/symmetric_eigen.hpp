// Eigenvalues and eigenvectors of a small symmetric matrix, by Jacobi's rotations: a few dozen
// unknowns, where nothing is faster to read or more exact.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace beetwright::num {

struct SymmetricEigen {
    std::vector<double> values;   ///< greatest first
    std::vector<double> vectors;  ///< row k: that of values[k], of length 1
};

/// Of an n x n matrix, row by row.
SymmetricEigen symmetric_eigen(std::span<const double> matrix, std::size_t n);

}  // namespace beetwright::num
