#include "num/seven_point.hpp"

#include "num/lanes.hpp"
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

inline void products(const Couplings& c, const double* diagonal, const double* x, double* product,
                     std::size_t begin, std::size_t end) {
    const double* up = c.up;
    const double* across = c.across;
    const std::size_t s = c.to_across;
    if (c.along == nullptr) {
        BEETWRIGHT_APART
        for (std::size_t i = begin; i < end; ++i) {
            product[i] = diagonal[i] * x[i] - (up[i] * x[i + 1] + up[i - 1] * x[i - 1] +
                                               across[i] * x[i + s] + across[i - s] * x[i - s]);
        }
        return;
    }
    const double* along = c.along;
    const std::size_t t = c.to_along;
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        product[i] = diagonal[i] * x[i] -
                     (up[i] * x[i + 1] + up[i - 1] * x[i - 1] + across[i] * x[i + s] +
                      across[i - s] * x[i - s] + along[i] * x[i + t] + along[i - t] * x[i - t]);
    }
}

inline void add_products(const double* a, const double* b, std::size_t begin, std::size_t end,
                         double* sums) {
    std::size_t i = begin;
    for (; i + kLanes <= end; i += kLanes) {
        for (std::size_t lane = 0; lane < kLanes; ++lane) {
            sums[lane] += a[i + lane] * b[i + lane];
        }
    }
    for (; i < end; ++i) {
        sums[0] += a[i] * b[i];
    }
}

BEETWRIGHT_WIDE
void all_products(const Couplings& c, const double* diagonal, const double* x, double* product,
                  std::size_t begin, std::size_t end) {
    products(c, diagonal, x, product, begin, end);
}

BEETWRIGHT_WIDE
double products_and_dot(const Couplings& c, const double* diagonal, const double* x,
                        double* product, std::size_t begin, std::size_t end) {
    double sums[kLanes] = {};
    for (std::size_t from = begin; from < end; from += kBlock) {
        const std::size_t to = from + kBlock < end ? from + kBlock : end;
        products(c, diagonal, x, product, from, to);
        add_products(x, product, from, to, sums);
    }
    return sum_of_lanes(sums);
}

BEETWRIGHT_WIDE
void subtract_from(const double* b, double* product, std::size_t begin, std::size_t end) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        product[i] = b[i] - product[i];
    }
}

BEETWRIGHT_WIDE
double dot_of(const double* a, const double* b, std::size_t begin, std::size_t end) {
    double sums[kLanes] = {};
    add_products(a, b, begin, end, sums);
    return sum_of_lanes(sums);
}

}  // namespace

void apply(const SevenPoint& matrix, std::span<const double> x, std::span<double> product) {
    all_products(couplings_of(matrix), matrix.diagonal.data(), x.data(), product.data(),
                 matrix.box.begin(), matrix.box.end());
}

double apply_and_dot(const SevenPoint& matrix, std::span<const double> x,
                     std::span<double> product) {
    return products_and_dot(couplings_of(matrix), matrix.diagonal.data(), x.data(), product.data(),
                            matrix.box.begin(), matrix.box.end());
}

void residual(const SevenPoint& matrix, std::span<const double> b, std::span<const double> x,
              std::span<double> rest) {
    apply(matrix, x, rest);
    subtract_from(b.data(), rest.data(), matrix.box.begin(), matrix.box.end());
}

double dot(const Box& box, std::span<const double> a, std::span<const double> b) {
    return dot_of(a.data(), b.data(), box.begin(), box.end());
}

}  // namespace beetwright::num
