// The factor of a positive definite matrix: against closed forms.
#include "num/cholesky.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "base/random.hpp"

namespace beetwright::num {
namespace {

// Hilbert's matrix of 4 x 4, whose inverse holds whole numbers: 16, -120, 240, -140, ... (Choi
// 1983, Amer. Math. Monthly 90:301-312); its determinant is 1 / 6,048,000.
constexpr std::size_t kSize = 4;
std::vector<double> hilbert() {
    std::vector<double> matrix;
    for (std::size_t a = 0; a < kSize; ++a) {
        for (std::size_t b = 0; b < kSize; ++b) {
            matrix.push_back(1.0 / static_cast<double>(a + b + 1));
        }
    }
    return matrix;
}

TEST(Cholesky, InvertsHilbertsMatrix) {
    const auto factor = Cholesky::of(hilbert(), kSize);
    ASSERT_TRUE(factor.has_value());
    constexpr std::array kInverse{16.0,  -120.0,  240.0,  -140.0,  -120.0, 1200.0, -2700.0, 1680.0,
                                  240.0, -2700.0, 6480.0, -4200.0, -140.0, 1680.0, -4200.0, 2800.0};
    const auto inverse = factor->inverse();
    for (std::size_t i = 0; i < kInverse.size(); ++i) {
        // The condition number is 15,514: twelve digits are left.
        EXPECT_NEAR(inverse[i], kInverse[i], 1e-9 * std::abs(kInverse[i])) << i;
    }
    EXPECT_NEAR(factor->log_determinant(), -std::log(6048000.0), 1e-10);
}

TEST(Cholesky, SolvesWhatItWasMadeOf) {
    const auto factor = Cholesky::of(hilbert(), kSize);
    std::vector<double> x{1.0, -2.0, 3.0, 4.0};
    std::vector<double> b(kSize);
    const auto matrix = hilbert();
    for (std::size_t a = 0; a < kSize; ++a) {
        for (std::size_t c = 0; c < kSize; ++c) {
            b[a] += matrix[a * kSize + c] * x[c];
        }
    }
    factor->solve(b);
    for (std::size_t a = 0; a < kSize; ++a) {
        EXPECT_NEAR(b[a], x[a], 1e-10);
    }
}

TEST(Cholesky, ColoursAndBleaches) {
    const auto factor = Cholesky::of(std::array{4.0, 2.0, 2.0, 10.0}, 2);
    ASSERT_TRUE(factor.has_value());
    // By hand: L = (2, 0; 1, 3).
    std::array<double, 2> draw{};
    factor->colour(std::array{1.0, 1.0}, draw);
    EXPECT_DOUBLE_EQ(draw[0], 2.0);
    EXPECT_DOUBLE_EQ(draw[1], 4.0);
    factor->bleach(draw);
    EXPECT_DOUBLE_EQ(draw[0], 1.0);
    EXPECT_DOUBLE_EQ(draw[1], 1.0);
}

TEST(Cholesky, RefusesWhatIsNotPositiveDefinite) {
    EXPECT_FALSE(Cholesky::of(std::array{1.0, 2.0, 2.0, 1.0}, 2).has_value());
    EXPECT_FALSE(Cholesky::of(std::array{0.0}, 1).has_value());
}

}  // namespace
}  // namespace beetwright::num
