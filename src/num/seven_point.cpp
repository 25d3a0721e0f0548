#include "num/seven_point.hpp"

#include "num/wide.hpp"

namespace beetwright::num {
namespace {

// Plain pointers, so that the loops can be compiled for wider registers: see wide.hpp.

struct Couplings {
    const double* up;
    const double* across;
    const double* along;  ///< null in a section
    std::size_t to_across, to_along;
};

Couplings couplings_of(const SevenPoint& m) {
    return {m.coupling[0].data(), m.coupling[1].data(),
            m.box.directions() == kDirections ? m.coupling[2].data() : nullptr, m.box.up,
            m.box.across * m.box.up};
}

BEETWRIGHT_WIDE
void neighbours(const Couplings& c, const double* x, double* sum, std::size_t begin,
                std::size_t end) {
    const double* up = c.up;
    const double* across = c.across;
    const std::size_t s = c.to_across;
    if (c.along == nullptr) {
        BEETWRIGHT_APART
        for (std::size_t i = begin; i < end; ++i) {
            sum[i] = up[i] * x[i + 1] + up[i - 1] * x[i - 1] + across[i] * x[i + s] +
                     across[i - s] * x[i - s];
        }
        return;
    }
    const double* along = c.along;
    const std::size_t t = c.to_along;
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        sum[i] = up[i] * x[i + 1] + up[i - 1] * x[i - 1] + across[i] * x[i + s] +
                 across[i - s] * x[i - s] + along[i] * x[i + t] + along[i - t] * x[i - t];
    }
}

BEETWRIGHT_WIDE
void rest_of(const double* b, const double* diagonal, const double* x, double* sum,
             std::size_t begin, std::size_t end) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        sum[i] = b[i] - diagonal[i] * x[i] + sum[i];
    }
}

BEETWRIGHT_WIDE
void less_neighbours(const double* diagonal, const double* x, double* sum, std::size_t begin,
                     std::size_t end) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        sum[i] = diagonal[i] * x[i] - sum[i];
    }
}

BEETWRIGHT_WIDE
void relaxed(const Couplings& c, const double* b, const double* per_diagonal, const double* x,
             double weight, double* next, std::size_t begin, std::size_t end) {
    const double* up = c.up;
    const double* across = c.across;
    const std::size_t s = c.to_across;
    const double keep = 1.0 - weight;
    if (c.along == nullptr) {
        BEETWRIGHT_APART
        for (std::size_t i = begin; i < end; ++i) {
            const double sum = up[i] * x[i + 1] + up[i - 1] * x[i - 1] + across[i] * x[i + s] +
                               across[i - s] * x[i - s];
            next[i] = keep * x[i] + weight * per_diagonal[i] * (b[i] + sum);
        }
        return;
    }
    const double* along = c.along;
    const std::size_t t = c.to_along;
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double sum = up[i] * x[i + 1] + up[i - 1] * x[i - 1] + across[i] * x[i + s] +
                           across[i - s] * x[i - s] + along[i] * x[i + t] + along[i - t] * x[i - t];
        next[i] = keep * x[i] + weight * per_diagonal[i] * (b[i] + sum);
    }
}

BEETWRIGHT_WIDE
double dot_of(const double* a, const double* b, std::size_t count) {
    double sums[8] = {};
    std::size_t i = 0;
    for (; i + 8 <= count; i += 8) {
        for (std::size_t lane = 0; lane < 8; ++lane) {
            sums[lane] += a[i + lane] * b[i + lane];
        }
    }
    for (; i < count; ++i) {
        sums[i % 8] += a[i] * b[i];
    }
    return ((sums[0] + sums[4]) + (sums[2] + sums[6])) +
           ((sums[1] + sums[5]) + (sums[3] + sums[7]));
}

}  // namespace

void apply(const SevenPoint& matrix, std::span<const double> x, std::span<double> product) {
    const auto& box = matrix.box;
    neighbours(couplings_of(matrix), x.data(), product.data(), box.begin(), box.end());
    less_neighbours(matrix.diagonal.data(), x.data(), product.data(), box.begin(), box.end());
}

void residual(const SevenPoint& matrix, std::span<const double> b, std::span<const double> x,
              std::span<double> rest) {
    const auto& box = matrix.box;
    neighbours(couplings_of(matrix), x.data(), rest.data(), box.begin(), box.end());
    rest_of(b.data(), matrix.diagonal.data(), x.data(), rest.data(), box.begin(), box.end());
}

void relax(const SevenPoint& matrix, std::span<const double> per_diagonal,
           std::span<const double> b, std::span<const double> x, double weight,
           std::span<double> next) {
    relaxed(couplings_of(matrix), b.data(), per_diagonal.data(), x.data(), weight, next.data(),
            matrix.box.begin(), matrix.box.end());
}

double dot(const Box& box, std::span<const double> a, std::span<const double> b) {
    return dot_of(a.data() + box.begin(), b.data() + box.begin(), box.cells());
}

}  // namespace beetwright::num
