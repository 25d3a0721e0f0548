#include "num/cholesky.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <cmath>

#include "base/contract.hpp"

namespace beetwright::num {
namespace {

using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
using Vector = Eigen::VectorXd;

Eigen::Index index(std::size_t n) {
    return static_cast<Eigen::Index>(n);
}
auto square(const std::vector<double>& values, std::size_t n) {
    return Eigen::Map<const Matrix>(values.data(), index(n), index(n));
}

}  // namespace

std::optional<Cholesky> Cholesky::of(std::span<const double> matrix, std::size_t n) {
    require(matrix.size() == n * n, "a square matrix");
    const Eigen::LLT<Matrix> factor(Eigen::Map<const Matrix>(matrix.data(), index(n), index(n)));
    if (factor.info() != Eigen::Success) {
        return std::nullopt;
    }
    Cholesky cholesky(n);
    Eigen::Map<Matrix>(cholesky.lower_.data(), index(n), index(n)) = factor.matrixL();
    return cholesky;
}

void Cholesky::solve(std::span<double> b) const {
    require(b.size() == n_, "as many as the matrix has rows");
    Eigen::Map<Vector> x(b.data(), index(n_));
    square(lower_, n_).triangularView<Eigen::Lower>().solveInPlace(x);
    square(lower_, n_).transpose().triangularView<Eigen::Upper>().solveInPlace(x);
}

std::vector<double> Cholesky::inverse() const {
    std::vector<double> inverse(n_ * n_);
    Eigen::Map<Matrix> x(inverse.data(), index(n_), index(n_));
    x.setIdentity();
    square(lower_, n_).triangularView<Eigen::Lower>().solveInPlace(x);
    square(lower_, n_).transpose().triangularView<Eigen::Upper>().solveInPlace(x);
    return inverse;
}

void Cholesky::colour(std::span<const double> scores, std::span<double> draw) const {
    require(scores.size() == n_ && draw.size() == n_, "as many as the matrix has rows");
    Eigen::Map<Vector>(draw.data(), index(n_)).noalias() =
        square(lower_, n_).triangularView<Eigen::Lower>() *
        Eigen::Map<const Vector>(scores.data(), index(n_));
}

void Cholesky::bleach(std::span<double> draw) const {
    require(draw.size() == n_, "as many as the matrix has rows");
    Eigen::Map<Vector> x(draw.data(), index(n_));
    square(lower_, n_).triangularView<Eigen::Lower>().solveInPlace(x);
}

double Cholesky::log_determinant() const {
    double sum = 0.0;
    for (std::size_t i = 0; i < n_; ++i) {
        sum += std::log(lower_[i * n_ + i]);
    }
    return 2.0 * sum;
}

}  // namespace beetwright::num
