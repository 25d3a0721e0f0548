#include "num/multigrid.hpp"

#include <algorithm>
#include <cmath>

#include "num/lanes.hpp"
#include "num/wide.hpp"

namespace beetwright::num {
namespace {

constexpr std::size_t kFewCells = 16;
/// A direction is put together where its couplings are at least this share of the strongest.
constexpr double kStrong = 0.3;
/// By how much single precision makes a residual smaller before it is reckoned anew.
constexpr double kTrusted = 1e-4;

double mean_coupling(const Floats& coupling) {
    double sum = 0.0;
    double count = 0.0;
    for (const float c : coupling) {
        sum += static_cast<double>(c);
        count += c > 0.0F ? 1.0 : 0.0;
    }
    return count > 0.0 ? sum / count : 0.0;
}

/// The directions to put together.
std::array<bool, kDirections> strong_directions(const MultigridLevel& level) {
    std::array<double, kDirections> mean{};
    double most = 0.0;
    for (std::size_t d = 0; d < level.box.directions(); ++d) {
        const bool is_wide = level.box.count(kEveryDirection[d]) > 1;
        mean[d] = is_wide ? mean_coupling(level.coupling[d]) : 0.0;
        most = std::max(most, mean[d]);
    }
    std::array<bool, kDirections> strong{};
    for (std::size_t d = 0; d < level.box.directions(); ++d) {
        strong[d] = mean[d] > 0.0 && mean[d] >= kStrong * most;
    }
    return strong;
}

/// Single precision's lanes: a register of sixteen, or two or four smaller ones.
constexpr std::size_t kFloatLanes = 16;

inline double sum_of_floats(const float* lanes) {
    double pairs[kLanes];
    for (std::size_t lane = 0; lane < kLanes; ++lane) {
        pairs[lane] = static_cast<double>(lanes[lane]) + static_cast<double>(lanes[lane + kLanes]);
    }
    return sum_of_lanes(pairs);
}

BEETWRIGHT_WIDE
double dot_of(std::size_t begin, std::size_t end, const float* a, const float* b) {
    float sums[kFloatLanes] = {};
    std::size_t i = begin;
    for (; i + kFloatLanes <= end; i += kFloatLanes) {
        for (std::size_t lane = 0; lane < kFloatLanes; ++lane) {
            sums[lane] += a[i + lane] * b[i + lane];
        }
    }
    for (; i < end; ++i) {
        sums[0] += a[i] * b[i];
    }
    return sum_of_floats(sums);
}

BEETWRIGHT_WIDE
void turn(std::size_t begin, std::size_t end, float keep, const float* z, float* direction) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        direction[i] = z[i] + keep * direction[i];
    }
}

/// Goes a step; the square of the norm of what is left.
BEETWRIGHT_WIDE
double go(std::size_t begin, std::size_t end, float step, const float* direction,
          const float* product, float* x, float* rest) {
    float sums[kFloatLanes] = {};
    std::size_t i = begin;
    for (; i + kFloatLanes <= end; i += kFloatLanes) {
        for (std::size_t lane = 0; lane < kFloatLanes; ++lane) {
            const std::size_t c = i + lane;
            x[c] += step * direction[c];
            const float left = rest[c] - step * product[c];
            rest[c] = left;
            sums[lane] += left * left;
        }
    }
    for (; i < end; ++i) {
        x[i] += step * direction[i];
        rest[i] -= step * product[i];
        sums[0] += rest[i] * rest[i];
    }
    return sum_of_floats(sums);
}

/// What decides how far to go along each of the tries: their products with each other in the
/// system's energy, and with what is left.
using Energies = std::array<std::array<double, kTries + 1>, kTries>;

BEETWRIGHT_WIDE
void energies(std::size_t begin, std::size_t end, const float* const* tries,
              const float* const* products, const float* rest, Energies& energy) {
    const float* a = tries[0];
    const float* b = tries[1];
    const float* c = tries[2];
    const float* of_a = products[0];
    const float* of_b = products[1];
    const float* of_c = products[2];
    float aa[kFloatLanes] = {}, ab[kFloatLanes] = {}, ac[kFloatLanes] = {};
    float bb[kFloatLanes] = {}, bc[kFloatLanes] = {}, cc[kFloatLanes] = {};
    float ar[kFloatLanes] = {}, br[kFloatLanes] = {}, cr[kFloatLanes] = {};
    for (std::size_t i = begin; i < end; i += kFloatLanes) {
        const std::size_t lanes = i + kFloatLanes <= end ? kFloatLanes : end - i;
        for (std::size_t lane = 0; lane < lanes; ++lane) {
            const std::size_t k = i + lane;
            aa[lane] += a[k] * of_a[k];
            ab[lane] += a[k] * of_b[k];
            ac[lane] += a[k] * of_c[k];
            bb[lane] += b[k] * of_b[k];
            bc[lane] += b[k] * of_c[k];
            cc[lane] += c[k] * of_c[k];
            ar[lane] += a[k] * rest[k];
            br[lane] += b[k] * rest[k];
            cr[lane] += c[k] * rest[k];
        }
    }
    energy[0] = {sum_of_floats(aa), sum_of_floats(ab), sum_of_floats(ac), sum_of_floats(ar)};
    energy[1] = {energy[0][1], sum_of_floats(bb), sum_of_floats(bc), sum_of_floats(br)};
    energy[2] = {energy[0][2], energy[1][2], sum_of_floats(cc), sum_of_floats(cr)};
}

/// How far to go along each: the little system solved by elimination. A try that the ones before it
/// say already, or one that is nought, is left out.
std::array<double, kTries> ways_of(Energies energy) {
    constexpr double kNew = 1e-4;
    std::array<double, kTries> own{};
    std::array<bool, kTries> counts{};
    for (std::size_t j = 0; j < kTries; ++j) {
        own[j] = energy[j][j];
    }
    for (std::size_t j = 0; j < kTries; ++j) {
        counts[j] = energy[j][j] > kNew * own[j];
        for (std::size_t i = 0; i < kTries && counts[j]; ++i) {
            const double share = i == j ? 0.0 : energy[i][j] / energy[j][j];
            for (std::size_t k = j; k <= kTries; ++k) {
                energy[i][k] -= share * energy[j][k];
            }
        }
    }
    std::array<double, kTries> ways{};
    for (std::size_t j = 0; j < kTries; ++j) {
        ways[j] = counts[j] ? energy[j][kTries] / energy[j][j] : 0.0;
    }
    return ways;
}

BEETWRIGHT_WIDE
void go_along(std::size_t begin, std::size_t end, const float* ways, const float* const* tries,
              const float* const* products, float* x, float* rest) {
    const float along_a = ways[0];
    const float along_b = ways[1];
    const float along_c = ways[2];
    const float* a = tries[0];
    const float* b = tries[1];
    const float* c = tries[2];
    const float* of_a = products[0];
    const float* of_b = products[1];
    const float* of_c = products[2];
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        x[i] = along_a * a[i] + along_b * b[i] + along_c * c[i];
        rest[i] -= along_a * of_a[i] + along_b * of_b[i] + along_c * of_c[i];
    }
}

/// What is left, as a share of its norm.
BEETWRIGHT_WIDE
void to_floats(std::size_t begin, std::size_t end, double per, const double* rest, float* single) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        single[i] = static_cast<float>(per * rest[i]);
    }
}

BEETWRIGHT_WIDE
void add_floats(std::size_t begin, std::size_t end, double by, const float* single, double* x) {
    BEETWRIGHT_APART
    for (std::size_t i = begin; i < end; ++i) {
        x[i] += by * static_cast<double>(single[i]);
    }
}

std::size_t half(std::size_t count, bool halved) {
    return halved ? (count + 1) / 2 : count;
}

}  // namespace

Multigrid::Multigrid(const Box& box)
    : matrix_(box),
      rest_(box.field()),
      direction_(box.room()),
      product_(box.room()),
      correction_(box.room()) {
    levels_.emplace_back(box);
}

void Multigrid::lay_out() {
    if (std::ranges::all_of(levels_.front().excess, [](float e) { return e == 0.0F; }) &&
        mean_coupling(levels_.front().coupling[0]) == 0.0) {
        return;  // nothing is there yet to tell strong directions by
    }
    while (true) {
        auto& fine = levels_.back();
        const auto strong = strong_directions(fine);
        const Box coarse{.across = half(fine.box.across, strong[1]),
                         .along = half(fine.box.along, strong[2]),
                         .up = half(fine.box.up, strong[0])};
        if (fine.box.cells() <= kFewCells || coarse.cells() == fine.box.cells()) {
            break;
        }
        fine.halved = strong;
        levels_.emplace_back(coarse);
        levels_.back().gather(fine);
    }
    const std::size_t few = levels_.back().box.cells();
    factor_.assign(few <= kFewCells ? few * few : 0, 0.0);
    is_laid_out_ = true;
}

void Multigrid::begin_anew() {
    levels_.resize(1, MultigridLevel(Box{}));
    levels_.front().halved = {};
    factor_.clear();
    is_laid_out_ = false;
}

void Multigrid::prepare() {
    levels_.front().take(matrix_);
    if (!is_laid_out_) {
        lay_out();
    }
    for (std::size_t l = 0; l + 1 < levels_.size(); ++l) {
        levels_[l + 1].gather(levels_[l]);
    }
    factor_coarsest();
}

void Multigrid::factor_coarsest() {
    if (factor_.empty()) {
        return;
    }
    const auto& level = levels_.back();
    const Box& box = level.box;
    const std::size_t n = box.cells();
    std::ranges::fill(factor_, 0.0);
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t cell = box.begin() + i;
        // A trace more than the couplings: where nothing ties a cell to the outside, its system
        // has no single solution, and any will do.
        factor_[i * n + i] = static_cast<double>(level.diagonal[cell]) * (1.0 + 1e-6);
        for (std::size_t d = 0; d < box.directions(); ++d) {
            const std::size_t to = i + box.stride(kEveryDirection[d]);
            if (to < n) {
                factor_[to * n + i] -= static_cast<double>(level.coupling[d][cell]);
            }
        }
    }
    // L L^T, the lower triangle in place; of the diagonal what divides by it.
    for (std::size_t j = 0; j < n; ++j) {
        for (std::size_t k = 0; k < j; ++k) {
            const double of_j = factor_[j * n + k];
            if (of_j == 0.0) {
                continue;
            }
            for (std::size_t i = j; i < n; ++i) {
                factor_[i * n + j] -= factor_[i * n + k] * of_j;
            }
        }
        const double per = 1.0 / std::sqrt(factor_[j * n + j]);
        factor_[j * n + j] = per;
        for (std::size_t i = j + 1; i < n; ++i) {
            factor_[i * n + j] *= per;
        }
    }
}

void Multigrid::solve_coarsest() {
    auto& level = levels_.back();
    const std::size_t n = level.box.cells();
    const std::size_t begin = level.box.begin();
    std::array<double, kFewCells> y{};
    for (std::size_t i = 0; i < n; ++i) {
        double sum = static_cast<double>(level.b[begin + i]);
        for (std::size_t k = 0; k < i; ++k) {
            sum -= factor_[i * n + k] * y[k];
        }
        y[i] = sum * factor_[i * n + i];
    }
    for (std::size_t i = n; i-- > 0;) {
        double sum = y[i];
        for (std::size_t k = i + 1; k < n; ++k) {
            sum -= factor_[k * n + i] * y[k];
        }
        y[i] = sum * factor_[i * n + i];
        level.x[begin + i] = level.in_system[begin + i] * static_cast<float>(y[i]);
    }
}

void Multigrid::cycle(std::size_t l) {
    auto& level = levels_[l];
    if (l + 1 == levels_.size()) {
        if (!factor_.empty()) {
            solve_coarsest();
            return;
        }
        level.smooth_from_nought();
        level.smooth(MultigridLevel::Way::up);
        return;
    }
    level.smooth_from_nought();
    level.send_rest(levels_[l + 1]);
    cycle(l + 1);
    level.take_correction(levels_[l + 1]);
    level.smooth(MultigridLevel::Way::up);
}

void Multigrid::lead_along(const Tries& tries) {
    const std::size_t begin = matrix_.box.begin();
    const std::size_t end = matrix_.box.end();
    auto& finest = levels_.front();
    std::array<const float*, kTries> from{};
    std::array<const float*, kTries> product{};
    for (std::size_t k = 0; k < kTries; ++k) {
        products_[k].resize(matrix_.box.room());
        finest.multiply(tries[k], products_[k]);
        from[k] = tries[k].data();
        product[k] = products_[k].data();
    }
    Energies energy{};
    energies(begin, end, from.data(), product.data(), finest.b.data(), energy);
    const auto ways = ways_of(energy);
    std::array<float, kTries> single{};
    std::ranges::transform(ways, single.begin(),
                           [](double way) { return static_cast<float>(way); });
    go_along(begin, end, single.data(), from.data(), product.data(), correction_.data(),
             finest.b.data());
}

int Multigrid::correct(double goal, int most) {
    const std::size_t begin = matrix_.box.begin();
    const std::size_t end = matrix_.box.end();
    auto& finest = levels_.front();
    auto& rest = finest.b;
    double along = 0.0;
    double square = dot_of(begin, end, rest.data(), rest.data());
    int iterations = 0;
    while (square > goal * goal && iterations < most) {
        cycle(0);
        const double now = dot_of(begin, end, rest.data(), finest.x.data());
        const double keep = iterations == 0 ? 0.0 : now / along;
        along = now;
        turn(begin, end, static_cast<float>(keep), finest.x.data(), direction_.data());
        finest.multiply(direction_, product_);
        const double step = along / dot_of(begin, end, direction_.data(), product_.data());
        square = go(begin, end, static_cast<float>(step), direction_.data(), product_.data(),
                    correction_.data(), rest.data());
        ++iterations;
    }
    left_ = std::sqrt(square);
    return iterations;
}

SolveOutcome Multigrid::solve(std::span<const double> b, std::span<double> x, double tolerance,
                              int most) {
    return solve_along(b, x, tolerance, most, nullptr);
}

SolveOutcome Multigrid::solve(std::span<const double> b, std::span<double> x, double tolerance,
                              int most, const Tries& tries) {
    return solve_along(b, x, tolerance, most, &tries);
}

SolveOutcome Multigrid::solve_along(std::span<const double> b, std::span<double> x,
                                    double tolerance, int most, const Tries* tries) {
    const Box& box = matrix_.box;
    SolveOutcome outcome;
    bool is_known = false;
    while (!is_known) {
        residual(matrix_, b, x, rest_);
        const double size = std::sqrt(dot(box, rest_, rest_));
        outcome.residual = size;
        if (!(size > tolerance) || !std::isfinite(size) || outcome.iterations >= most) {
            break;
        }
        to_floats(box.begin(), box.end(), 1.0 / size, rest_.data(), levels_.front().b.data());
        if (tries != nullptr && outcome.iterations == 0) {
            lead_along(*tries);
        } else {
            std::ranges::fill(correction_, 0.0F);
        }
        // What single precision says of what is left holds while that is not too little.
        is_known = tolerance >= kTrusted * size;
        outcome.iterations +=
            correct(std::max(tolerance / size, kTrusted), most - outcome.iterations);
        add_floats(box.begin(), box.end(), size, correction_.data(), x.data());
        outcome.residual = size * left_;
    }
    outcome.converged = outcome.residual <= tolerance;
    return outcome;
}

}  // namespace beetwright::num
