#include "num/multigrid_level.hpp"

#include <algorithm>

#include "num/wide.hpp"

namespace beetwright::num {
namespace {

// Two Chebyshev steps for eigenvalues of D^-1 A from a quarter of the greatest, 2, up to it: the
// rest of each such error is 0.22 or less.
constexpr float kFirst = 0.5617F;
constexpr float kSecond = 1.3895F;
/// Of the fine couplings' sum, what couples two coarse cells that are twice as long.
constexpr float kShare = 0.5F;

struct Couplings {
    const float* up;
    const float* across;
    const float* along;  ///< null in a section
    std::size_t to_across, to_along;
};

Couplings couplings_of(const MultigridLevel& l) {
    return {l.coupling[0].data(), l.coupling[1].data(),
            l.box.directions() == kDirections ? l.coupling[2].data() : nullptr, l.box.up,
            l.box.across * l.box.up};
}

BEETWRIGHT_WIDE
void relaxed(std::size_t begin, std::size_t end, const Couplings& c, const float* b,
             const float* per_diagonal, const float* x, float weight, float* next) {
    const float* up = c.up;
    const float* across = c.across;
    const std::size_t s = c.to_across;
    const float keep = 1.0F - weight;
    if (c.along == nullptr) {
        BEETWRIGHT_APART
        for (std::size_t i = begin; i < end; ++i) {
            const float sum = up[i] * x[i + 1] + up[i - 1] * x[i - 1] + across[i] * x[i + s] +
                              across[i - s] * x[i - s];
            next[i] = keep * x[i] + weight * per_diagonal[i] * (b[i] + sum);
        }
        return;
    }
    const float* along = c.along;
    const std::size_t t = c.to_along;
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const float sum = up[i] * x[i + 1] + up[i - 1] * x[i - 1] + across[i] * x[i + s] +
                          across[i - s] * x[i - s] + along[i] * x[i + t] + along[i - t] * x[i - t];
        next[i] = keep * x[i] + weight * per_diagonal[i] * (b[i] + sum);
    }
}

BEETWRIGHT_WIDE
void rest_of(std::size_t begin, std::size_t end, const Couplings& c, const float* b,
             const float* diagonal, const float* x, float* rest) {
    const float* up = c.up;
    const float* across = c.across;
    const std::size_t s = c.to_across;
    if (c.along == nullptr) {
        BEETWRIGHT_APART
        for (std::size_t i = begin; i < end; ++i) {
            const float sum = up[i] * x[i + 1] + up[i - 1] * x[i - 1] + across[i] * x[i + s] +
                              across[i - s] * x[i - s];
            rest[i] = b[i] - diagonal[i] * x[i] + sum;
        }
        return;
    }
    const float* along = c.along;
    const std::size_t t = c.to_along;
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const float sum = up[i] * x[i + 1] + up[i - 1] * x[i - 1] + across[i] * x[i + s] +
                          across[i - s] * x[i - s] + along[i] * x[i + t] + along[i - t] * x[i - t];
        rest[i] = b[i] - diagonal[i] * x[i] + sum;
    }
}

/// By differences, which keep single precision's digits where neighbours are nearly alike.
BEETWRIGHT_WIDE
void products(std::size_t begin, std::size_t end, const Couplings& c, const float* alone,
              const float* x, float* product) {
    const float* up = c.up;
    const float* across = c.across;
    const std::size_t s = c.to_across;
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const float here = x[i];
        product[i] = alone[i] * here + (up[i] * (here - x[i + 1]) + up[i - 1] * (here - x[i - 1])) +
                     (across[i] * (here - x[i + s]) + across[i - s] * (here - x[i - s]));
    }
    if (c.along == nullptr) {
        return;
    }
    const float* along = c.along;
    const std::size_t t = c.to_along;
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        product[i] += along[i] * (x[i] - x[i + t]) + along[i - t] * (x[i] - x[i - t]);
    }
}

BEETWRIGHT_WIDE
void scale_by(std::size_t begin, std::size_t end, float weight, const float* per_diagonal,
              const float* b, float* x) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        x[i] = weight * per_diagonal[i] * b[i];
    }
}

/// out_k += the sum of the fine column's cells 2k and 2k + 1.
BEETWRIGHT_WIDE
void add_pairs(std::size_t pairs, const float* column, float* out) {
    BEETWRIGHT_APART
    for (std::size_t k = 0; k < pairs; ++k) {
        out[k] += column[2 * k] + column[2 * k + 1];
    }
}
BEETWRIGHT_WIDE
void add_column(std::size_t count, std::size_t step, const float* column, float* out) {
    BEETWRIGHT_APART
    for (std::size_t k = 0; k < count; ++k) {
        out[k] += column[step * k];
    }
}
BEETWRIGHT_WIDE
void spread_pairs(std::size_t pairs, const float* coarse, const float* in, float* column) {
    BEETWRIGHT_APART
    for (std::size_t k = 0; k < pairs; ++k) {
        column[2 * k] += in[2 * k] * coarse[k];
        column[2 * k + 1] += in[2 * k + 1] * coarse[k];
    }
}
BEETWRIGHT_WIDE
void spread_column(std::size_t count, const float* coarse, const float* in, float* column) {
    BEETWRIGHT_APART
    for (std::size_t k = 0; k < count; ++k) {
        column[k] += in[k] * coarse[k];
    }
}

BEETWRIGHT_WIDE
void to_single(std::size_t begin, std::size_t end, const double* from, float* to) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        to[i] = static_cast<float>(from[i]);
    }
}

struct DoubleCouplings {
    const double* up;
    const double* across;
    const double* along;  ///< null in a section
    std::size_t to_across, to_along;
};
/// What a diagonal is more than its couplings.
BEETWRIGHT_WIDE
void excesses(std::size_t begin, std::size_t end, const DoubleCouplings& c, const double* diagonal,
              float* alone, float* excess) {
    const double* up = c.up;
    const double* across = c.across;
    const double* along = c.along == nullptr ? c.across : c.along;
    const double third = c.along == nullptr ? 0.0 : 1.0;
    const std::size_t s = c.to_across;
    const std::size_t t = c.along == nullptr ? s : c.to_along;
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const double coupled =
            up[i] + up[i - 1] + across[i] + across[i - s] + third * (along[i] + along[i - t]);
        const double left = diagonal[i] - coupled;
        const float more = left > 0.0 ? static_cast<float>(left) : 0.0F;
        alone[i] = more;
        excess[i] = coupled > 0.0 ? more : 0.0F;
    }
}

/// Goes through the fine columns and the coarse ones that they are part of.
template <class Visit>
void for_columns(const Box& fine, const std::array<bool, kDirections>& halved, const Box& coarse,
                 const Visit& visit) {
    for (std::size_t j = 0; j < fine.along; ++j) {
        for (std::size_t i = 0; i < fine.across; ++i) {
            visit(i, j, fine.index(i, j, 0),
                  coarse.index(halved[1] ? i / 2 : i, halved[2] ? j / 2 : j, 0));
        }
    }
}

void add_sums(const Box& fine, const std::array<bool, kDirections>& halved, const Box& coarse,
              const Floats& from, Floats& to) {
    for_columns(fine, halved, coarse,
                [&](std::size_t, std::size_t, std::size_t column, std::size_t into) {
                    if (!halved[0]) {
                        add_column(fine.up, 1, &from[column], &to[into]);
                        return;
                    }
                    add_pairs(fine.up / 2, &from[column], &to[into]);
                    if (fine.up % 2 == 1) {
                        to[into + fine.up / 2] += from[column + fine.up - 1];
                    }
                });
}

}  // namespace

MultigridLevel::MultigridLevel(const Box& of)
    : box(of),
      excess(of.room()),
      diagonal(of.room(), 1.0F),
      per_diagonal(of.room(), 1.0F),
      in_system(of.room()),
      b(of.room()),
      x(of.room()),
      next(of.room()) {
    for (std::size_t d = 0; d < of.directions(); ++d) {
        coupling[d].assign(of.room(), 0.0F);
    }
}

void MultigridLevel::take(const SevenPoint& matrix) {
    alone.resize(box.room());
    for (std::size_t d = 0; d < box.directions(); ++d) {
        to_single(0, box.room(), matrix.coupling[d].data(), coupling[d].data());
    }
    const bool is_section = box.directions() < kDirections;
    excesses(box.begin(), box.end(),
             {matrix.coupling[0].data(), matrix.coupling[1].data(),
              is_section ? nullptr : matrix.coupling[2].data(), box.stride(Direction::across),
              box.stride(Direction::along)},
             matrix.diagonal.data(), alone.data(), excess.data());
    set_diagonals();
}

void MultigridLevel::gather(const MultigridLevel& fine) {
    std::ranges::fill(excess, 0.0F);
    add_sums(fine.box, fine.halved, box, fine.excess, excess);
    for (std::size_t d = 0; d < box.directions(); ++d) {
        std::ranges::fill(coupling[d], 0.0F);
        // Between the last of two cells and the first of the next two; what couples the two
        // themselves is within.
        const auto& from = fine.coupling[d];
        auto& to = coupling[d];
        for_columns(fine.box, fine.halved, box,
                    [&](std::size_t i, std::size_t j, std::size_t column, std::size_t into) {
                        const std::size_t at[] = {1, i, j};
                        if (fine.halved[d] && at[d] % 2 == 0) {
                            return;
                        }
                        if (!fine.halved[0]) {
                            add_column(fine.box.up, 1, &from[column], &to[into]);
                        } else if (d == 0) {
                            add_column(fine.box.up / 2, 2, &from[column + 1], &to[into]);
                        } else {
                            add_pairs(fine.box.up / 2, &from[column], &to[into]);
                            if (fine.box.up % 2 == 1) {
                                to[into + fine.box.up / 2] += from[column + fine.box.up - 1];
                            }
                        }
                    });
        if (fine.halved[d]) {
            for (float& c : to) {
                c *= kShare;
            }
        }
    }
    set_diagonals();
}

namespace {

BEETWRIGHT_WIDE
void diagonals(std::size_t begin, std::size_t end, const Couplings& c, const float* excess,
               float* diagonal, float* per_diagonal, float* in_system) {
    const float* up = c.up;
    const float* across = c.across;
    const float* along = c.along == nullptr ? c.across : c.along;
    const float third = c.along == nullptr ? 0.0F : 1.0F;
    const std::size_t s = c.to_across;
    const std::size_t t = c.along == nullptr ? s : c.to_along;
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        const float coupled =
            up[i] + up[i - 1] + across[i] + across[i - s] + third * (along[i] + along[i - t]);
        const float sum = coupled + excess[i];
        diagonal[i] = sum > 0.0F ? sum : 1.0F;
        per_diagonal[i] = 1.0F / diagonal[i];
        in_system[i] = sum > 0.0F ? 1.0F : 0.0F;
    }
}

}  // namespace

void MultigridLevel::set_diagonals() {
    diagonals(box.begin(), box.end(), couplings_of(*this), excess.data(), diagonal.data(),
              per_diagonal.data(), in_system.data());
}

void MultigridLevel::multiply(const Floats& of, Floats& product) const {
    products(box.begin(), box.end(), couplings_of(*this), alone.data(), of.data(), product.data());
}

void MultigridLevel::relax(float weight) {
    relaxed(box.begin(), box.end(), couplings_of(*this), b.data(), per_diagonal.data(), x.data(),
            weight, next.data());
    x.swap(next);
}

void MultigridLevel::smooth(Way way) {
    relax(way == Way::down ? kFirst : kSecond);
    relax(way == Way::down ? kSecond : kFirst);
}

void MultigridLevel::smooth_from_nought() {
    scale_by(box.begin(), box.end(), kFirst, per_diagonal.data(), b.data(), x.data());
    relax(kSecond);
}

void MultigridLevel::send_rest(MultigridLevel& coarse) {
    rest_of(box.begin(), box.end(), couplings_of(*this), b.data(), diagonal.data(), x.data(),
            next.data());
    std::ranges::fill(coarse.b, 0.0F);
    add_sums(box, halved, coarse.box, next, coarse.b);
}

void MultigridLevel::take_correction(const MultigridLevel& coarse) {
    // What is in no system stays nought: its diagonal of 1 would outweigh all others.
    for_columns(box, halved, coarse.box,
                [&](std::size_t, std::size_t, std::size_t column, std::size_t from) {
                    if (!halved[0]) {
                        spread_column(box.up, &coarse.x[from], &in_system[column], &x[column]);
                        return;
                    }
                    spread_pairs(box.up / 2, &coarse.x[from], &in_system[column], &x[column]);
                    if (box.up % 2 == 1) {
                        x[column + box.up - 1] +=
                            in_system[column + box.up - 1] * coarse.x[from + box.up / 2];
                    }
                });
}

}  // namespace beetwright::num
