#include "num/symmetric_eigen.hpp"

#include <cmath>

#include "base/contract.hpp"
#include "base/sorted.hpp"

namespace beetwright::num {
namespace {

/// Turns p and q so that what couples them vanishes (Golub and Van Loan, "Matrix Computations",
/// 8.5); rows of `vectors` turn along.
void turn(std::vector<double>& a, std::vector<double>& vectors, std::size_t n, std::size_t p,
          std::size_t q) {
    const double tau = (a[q * n + q] - a[p * n + p]) / (2.0 * a[p * n + q]);
    const double t = (tau >= 0.0 ? 1.0 : -1.0) / (std::abs(tau) + std::sqrt(1.0 + tau * tau));
    const double c = 1.0 / std::sqrt(1.0 + t * t);
    const double s = t * c;
    for (std::size_t k = 0; k < n; ++k) {
        const double ap = a[k * n + p];
        const double aq = a[k * n + q];
        a[k * n + p] = c * ap - s * aq;
        a[k * n + q] = s * ap + c * aq;
    }
    for (auto* const rows : {&a, &vectors}) {
        for (std::size_t k = 0; k < n; ++k) {
            const double rp = (*rows)[p * n + k];
            const double rq = (*rows)[q * n + k];
            (*rows)[p * n + k] = c * rp - s * rq;
            (*rows)[q * n + k] = s * rp + c * rq;
        }
    }
}

}  // namespace

SymmetricEigen symmetric_eigen(std::span<const double> matrix, std::size_t n) {
    require(matrix.size() == n * n, "a square matrix");
    std::vector<double> a(matrix.begin(), matrix.end());
    std::vector<double> vectors(n * n, 0.0);
    double whole = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
        vectors[i * n + i] = 1.0;
        for (std::size_t j = 0; j < n; ++j) {
            whole += a[i * n + j] * a[i * n + j];
        }
    }
    constexpr int kMostSweeps = 60;  // it converges quadratically: a handful are enough
    for (int sweep = 0; sweep < kMostSweeps; ++sweep) {
        double off = 0.0;
        for (std::size_t p = 0; p + 1 < n; ++p) {
            for (std::size_t q = p + 1; q < n; ++q) {
                off += a[p * n + q] * a[p * n + q];
            }
        }
        if (off <= 1e-30 * whole) {
            break;
        }
        for (std::size_t p = 0; p + 1 < n; ++p) {
            for (std::size_t q = p + 1; q < n; ++q) {
                if (a[p * n + q] != 0.0) {
                    turn(a, vectors, n, p, q);
                }
            }
        }
    }
    std::vector<std::size_t> order(n);
    for (std::size_t i = 0; i < n; ++i) {
        order[i] = i;
    }
    sort_list(order, std::greater<>(), [&](std::size_t i) { return a[i * n + i]; });
    SymmetricEigen eigen;
    for (const std::size_t i : order) {
        eigen.values.push_back(a[i * n + i]);
        for (std::size_t k = 0; k < n; ++k) {
            eigen.vectors.push_back(vectors[i * n + k]);
        }
    }
    return eigen;
}

}  // namespace beetwright::num
