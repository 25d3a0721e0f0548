// Eigenvalues of symmetric matrices: against closed forms.
#include "num/symmetric_eigen.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "base/random.hpp"

namespace beetwright::num {
namespace {

// A chain of springs: 2 on the diagonal, -1 beside it; its eigenvalues are 2 - 2 cos(k pi/(n + 1)).
TEST(SymmetricEigen, FindsTheTonesOfAChain) {
    constexpr std::size_t kSize = 24;
    std::vector<double> chain(kSize * kSize, 0.0);
    for (std::size_t i = 0; i < kSize; ++i) {
        chain[i * kSize + i] = 2.0;
        if (i + 1 < kSize) {
            chain[i * kSize + i + 1] = chain[(i + 1) * kSize + i] = -1.0;
        }
    }
    const auto eigen = symmetric_eigen(chain, kSize);
    for (std::size_t k = 0; k < kSize; ++k) {
        const double number = static_cast<double>(kSize - k);
        const double tone =
            2.0 - 2.0 * std::cos(number * std::numbers::pi / static_cast<double>(kSize + 1));
        EXPECT_NEAR(eigen.values[k], tone, 1e-13) << k;
    }
}

TEST(SymmetricEigen, VectorsAreSquareToEachOtherAndMakeTheMatrixAgain) {
    constexpr std::size_t kSize = 12;
    RandomStream random(3, "test eigen");
    std::vector<double> matrix(kSize * kSize);
    for (std::size_t i = 0; i < kSize; ++i) {
        for (std::size_t j = 0; j <= i; ++j) {
            matrix[i * kSize + j] = matrix[j * kSize + i] = random.normal();
        }
    }
    const auto eigen = symmetric_eigen(matrix, kSize);
    for (std::size_t i = 0; i < kSize; ++i) {
        for (std::size_t j = 0; j < kSize; ++j) {
            double again = 0.0;
            double product = 0.0;
            for (std::size_t k = 0; k < kSize; ++k) {
                again +=
                    eigen.values[k] * eigen.vectors[k * kSize + i] * eigen.vectors[k * kSize + j];
                product += eigen.vectors[i * kSize + k] * eigen.vectors[j * kSize + k];
            }
            EXPECT_NEAR(again, matrix[i * kSize + j], 1e-12);
            EXPECT_NEAR(product, i == j ? 1.0 : 0.0, 1e-13);
        }
    }
}

// Of rank 1: one eigenvalue is the square of the vector's length, the others are nought.
TEST(SymmetricEigen, OfOneDirection) {
    const auto eigen = symmetric_eigen(std::vector{1.0, 2.0, 2.0, 2.0, 4.0, 4.0, 2.0, 4.0, 4.0}, 3);
    EXPECT_NEAR(eigen.values[0], 9.0, 1e-14);
    EXPECT_NEAR(eigen.values[1], 0.0, 1e-14);
    EXPECT_NEAR(eigen.values[2], 0.0, 1e-14);
}

}  // namespace
}  // namespace beetwright::num
