// The triangular factor of a symmetric positive definite matrix: solves, and draws of a
// multivariate normal.
//
// Plain loops: a dozen or two unknowns are all there are, and a library's blocks for thousands
// would be 6 kB in every browser.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace beetwright::num {

class Cholesky {
 public:
    /// Of an n x n matrix, row by row, of which the lower triangle is read. Nothing where it is not
    /// positive definite.
    static std::optional<Cholesky> of(std::span<const double> matrix, std::size_t n);

    [[nodiscard]] std::size_t size() const { return n_; }
    /// x of A x = b, in the place of b.
    void solve(std::span<double> b) const;
    /// The inverse, row by row.
    [[nodiscard]] std::vector<double> inverse() const;
    /// L z: of standard normal scores z, one draw of a normal with covariance A about zero.
    void colour(std::span<const double> scores, std::span<double> draw) const;
    /// The other way round, in place: the scores of a draw.
    void bleach(std::span<double> draw) const;
    [[nodiscard]] double log_determinant() const;

 private:
    explicit Cholesky(std::size_t n) : n_(n), lower_(n * n) {}

    std::size_t n_;
    std::vector<double> lower_;  ///< row by row; above the diagonal it is not read
};

}  // namespace beetwright::num
