#include "num/cholesky.hpp"

#include <cmath>

#include "base/contract.hpp"

namespace beetwright::num {
namespace {

/// b of L x = b becomes x.
void solve_lower(std::span<const double> lower, std::span<double> b) {
    const std::size_t n = b.size();
    for (std::size_t i = 0; i < n; ++i) {
        double sum = b[i];
        for (std::size_t k = 0; k < i; ++k) {
            sum -= lower[i * n + k] * b[k];
        }
        b[i] = sum / lower[i * n + i];
    }
}

/// b of L' x = b becomes x; row by row of L, as it lies in memory.
void solve_upper(std::span<const double> lower, std::span<double> b) {
    const std::size_t n = b.size();
    for (std::size_t i = n; i-- > 0;) {
        b[i] /= lower[i * n + i];
        for (std::size_t k = 0; k < i; ++k) {
            b[k] -= lower[i * n + k] * b[i];
        }
    }
}

}  // namespace

std::optional<Cholesky> Cholesky::of(std::span<const double> matrix, std::size_t n) {
    require(matrix.size() == n * n, "a square matrix");
    Cholesky cholesky(n);
    auto& lower = cholesky.lower_;
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = 0; j <= i; ++j) {
            double sum = matrix[i * n + j];
            for (std::size_t k = 0; k < j; ++k) {
                sum -= lower[i * n + k] * lower[j * n + k];
            }
            if (j < i) {
                lower[i * n + j] = sum / lower[j * n + j];
            } else if (sum > 0.0) {
                lower[i * n + i] = std::sqrt(sum);
            } else {
                return std::nullopt;
            }
        }
    }
    return cholesky;
}

void Cholesky::solve(std::span<double> b) const {
    require(b.size() == n_, "as many as the matrix has rows");
    solve_lower(lower_, b);
    solve_upper(lower_, b);
}

std::vector<double> Cholesky::inverse() const {
    // It is its own mirror image, so that its columns may lie as rows.
    std::vector<double> inverse(n_ * n_);
    for (std::size_t i = 0; i < n_; ++i) {
        const auto column = std::span(inverse).subspan(i * n_, n_);
        column[i] = 1.0;
        solve(column);
    }
    return inverse;
}

void Cholesky::colour(std::span<const double> scores, std::span<double> draw) const {
    require(scores.size() == n_ && draw.size() == n_, "as many as the matrix has rows");
    for (std::size_t i = 0; i < n_; ++i) {
        draw[i] = 0.0;
        for (std::size_t k = 0; k <= i; ++k) {
            draw[i] += lower_[i * n_ + k] * scores[k];
        }
    }
}

void Cholesky::bleach(std::span<double> draw) const {
    require(draw.size() == n_, "as many as the matrix has rows");
    solve_lower(lower_, draw);
}

double Cholesky::log_determinant() const {
    double sum = 0.0;
    for (std::size_t i = 0; i < n_; ++i) {
        sum += std::log(lower_[i * n_ + i]);
    }
    return 2.0 * sum;
}

}  // namespace beetwright::num
