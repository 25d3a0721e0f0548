#include "num/normal_pairs.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <numbers>

#include "num/distributions.hpp"
#include "num/wide.hpp"

namespace beetwright::num {
namespace {

/// Powers below this are nothing, and must not leave what an exponent can say.
constexpr double kLeast = -700.0;

// What goes side by side: where registers are wide four numbers, else one, in less code.
#if defined(__wasm__)
using Lane = double;
using Bits = std::uint64_t;
#else
using Lane = Pack;
using Bits = std::uint64_t __attribute__((vector_size(sizeof(Pack))));
#endif
constexpr std::size_t kLane = sizeof(Lane) / sizeof(double);

inline void read(Lane& to, const double* from) {
    std::memcpy(&to, from, sizeof to);
}
inline void write(double* to, const Lane& from) {
    std::memcpy(to, &from, sizeof from);
}

/// e^x of x from -700 to 0, to 1e-11 of itself, in its place: a power of two, and Taylor's series
/// of what is left.
inline void quick_exp(Lane& x) {
    constexpr double kRound = 6755399441055744.0;      // 1.5 x 2^52: what is added to it is rounded
    constexpr double kHigh = 0.693147180369123816490;  // of ln 2, in two parts
    constexpr double kLow = 1.90821492927058770002e-10;
    const Lane rounded = x * std::numbers::log2e + kRound;
    const Lane n = rounded - kRound;
    const Lane r = (x - n * kHigh) - n * kLow;
    Lane sum = r * (1.0 / 362880.0) + 1.0 / 40320.0;
    for (const double term :
         {1.0 / 5040.0, 1.0 / 720.0, 1.0 / 120.0, 1.0 / 24.0, 1.0 / 6.0, 0.5, 1.0, 1.0}) {
        sum = sum * r + term;
    }
    Bits power;
    std::memcpy(&power, &rounded, sizeof power);
    power = (power + 1023U) << 52U;
    Lane scale;
    std::memcpy(&scale, &power, sizeof scale);
    x = sum * scale;
}

/// P(Z <= z), in its place.
inline void quick_cdf(Lane& z) {
    constexpr double kFar = 37.0;  // nothing is left of a chance there
    Lane a = z < 0.0 ? -z : z;
    a = a > kFar ? Lane{} + kFar : a;
    Lane over = a * 3.52624965998911e-2 + 0.700383064443688;
    for (const double term : {6.37396220353165, 33.912866078383, 112.079291497871, 221.213596169931,
                              220.206867912376}) {
        over = over * a + term;
    }
    Lane under = a * 8.83883476483184e-2 + 1.75566716318264;
    for (const double term : {16.064177579207, 86.7807322029461, 296.564248779674, 637.333633378831,
                              793.826512519948, 440.413735824752}) {
        under = under * a + term;
    }
    Lane tail = -0.5 * a * a;
    quick_exp(tail);
    tail = tail * over / under;
    z = z < 0.0 ? tail : 1.0 - tail;
}

/// Those of twelve points that lie above zero.
constexpr std::array<double, 6> kPoints{0.1252334085114689, 0.3678314989981802, 0.5873179542866175,
                                        0.7699026741943047, 0.9041172563704749, 0.9815606342467193};
constexpr std::array<double, 6> kWeights{0.2491470458134028, 0.2334925365383548,
                                         0.2031674267230659, 0.1600783285433462,
                                         0.1069393259953184, 0.0471753363865118};

/// Both Owen's T of each pair.
constexpr std::size_t kTs = 2 * kPairs;
static_assert(kTs % kLane == 0);
/// Of each T its h, its product u = a h; and room for the limit that all pairs share.
constexpr std::size_t kCdfs = 2 * kTs;

/// Owen's T at h and a, by h and the product u = a h: where |u| > |h| they change places.
BEETWRIGHT_WIDE void reckon(const PairLimits& limits, PairChances& chances) {
    std::array<double, kCdfs> z{};
    for (std::size_t i = 0; i < kPairs; ++i) {
        const double c = limits.correlation[i];
        const double over_root = 1.0 / std::sqrt((1.0 - c) * (1.0 + c));
        z[i] = limits.x[i];
        z[kPairs + i] = limits.y;
        z[kTs + i] = (limits.y - c * limits.x[i]) * over_root;
        z[kTs + kPairs + i] = (limits.x[i] - c * limits.y) * over_root;
    }
    std::array<double, kCdfs> cdf{};
    std::array<double, kTs> t{};
    for (std::size_t i = 0; i < kCdfs; i += kLane) {
        Lane part;
        read(part, &z[i]);
        quick_cdf(part);
        write(&cdf[i], part);
    }
    for (std::size_t i = 0; i < kTs; i += kLane) {
        Lane h, u, of_h, of_u;
        read(h, &z[i]);
        read(u, &z[kTs + i]);
        read(of_h, &cdf[i]);
        read(of_u, &cdf[kTs + i]);
        const Lane h2 = h * h;
        const Lane u2 = u * u;
        const auto is_turned = u2 > h2;
        const Lane large = is_turned ? u2 : h2;
        const Lane small = is_turned ? h2 : u2;
        const Lane ratio2 = small / large;
        Lane sum{};
        for (std::size_t p = 0; p < kPoints.size(); ++p) {
            const double square = kPoints[p] * kPoints[p];
            Lane power = -0.5 * (large + small * square);
            power = power < kLeast ? Lane{} + kLeast : power;
            quick_exp(power);
            sum += kWeights[p] * power / (1.0 + ratio2 * square);
        }
        const Lane product = h * u;
        // Of the sign of h u, and of the size of the smaller over the larger.
        const Lane core = sum * (product / large) * (0.5 / std::numbers::pi);
        const Lane turned = 0.5 * (of_h + of_u) - of_h * of_u - core;
        const auto is_negative = (h < 0.0) != (u < 0.0);
        const Lane whole = is_turned ? (is_negative ? turned - 0.5 : turned) : core;
        write(&t[i], whole);
    }
    chances.y = cdf[kPairs];
    for (std::size_t i = 0; i < kPairs; ++i) {
        const double opposed = (limits.x[i] < 0.0) != (limits.y < 0.0) ? 0.5 : 0.0;
        const double both = 0.5 * (cdf[i] + chances.y) - t[i] - t[kPairs + i] - opposed;
        chances.both[i] = std::clamp(both, 0.0, 1.0);
        chances.x[i] = cdf[i];
    }
}

}  // namespace

PairChances pair_chances(const PairLimits& limits) {
    PairChances chances;
    reckon(limits, chances);
    // Where both of a T's numbers may be nothing, or one is no number, the closed forms are for.
    const auto is_plain = [](double limit) {
        const double size = std::abs(limit);
        return size > 1e-100 && size < 37.0;
    };
    for (std::size_t i = 0; i < kPairs; ++i) {
        const double c = limits.correlation[i];
        if (!is_plain(limits.x[i]) || !is_plain(limits.y) || !(std::abs(c) < 1.0 - 1e-12)) {
            chances.both[i] = normal_pair_cdf(limits.x[i], limits.y, c);
        }
    }
    return chances;
}

}  // namespace beetwright::num
