#include "base/random.hpp"

#include <cmath>
#include <numbers>

#include "base/contract.hpp"

namespace beetwright {
namespace {

constexpr std::uint32_t kMultiplier0 = 0xD2511F53U;
constexpr std::uint32_t kMultiplier1 = 0xCD9E8D57U;
constexpr std::uint32_t kWeyl0 = 0x9E3779B9U;
constexpr std::uint32_t kWeyl1 = 0xBB67AE85U;
constexpr int kRounds = 10;

// The finaliser of SplitMix64 (Steele, Lea and Flood 2014): every input bit reaches every output
// bit.
std::uint64_t mix(std::uint64_t x) {
    x = (x ^ (x >> 30U)) * 0xBF58476D1CE4E5B9U;
    x = (x ^ (x >> 27U)) * 0x94D049BB133111EBU;
    return x ^ (x >> 31U);
}

std::uint32_t low_word(std::uint64_t x) {
    return static_cast<std::uint32_t>(x);
}
std::uint32_t high_word(std::uint64_t x) {
    return static_cast<std::uint32_t>(x >> 32U);
}

}  // namespace

std::array<std::uint32_t, 4> philox4x32(std::array<std::uint32_t, 4> counter,
                                        std::array<std::uint32_t, 2> key) {
    for (int round = 0; round < kRounds; ++round) {
        const std::uint64_t p0 = std::uint64_t{kMultiplier0} * counter[0];
        const std::uint64_t p1 = std::uint64_t{kMultiplier1} * counter[2];
        counter = {high_word(p1) ^ counter[1] ^ key[0], low_word(p1),
                   high_word(p0) ^ counter[3] ^ key[1], low_word(p0)};
        key = {key[0] + kWeyl0, key[1] + kWeyl1};
    }
    return counter;
}

std::uint64_t stable_hash(std::string_view text) {
    std::uint64_t hash = 0xCBF29CE484222325U;
    for (const char c : text) {
        hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3U;
    }
    return mix(hash);
}

RandomStream::RandomStream(std::uint64_t seed, std::string_view purpose, std::uint64_t entity)
    : entity_(entity) {
    const std::uint64_t key = mix(seed ^ stable_hash(purpose));
    key_ = {low_word(key), high_word(key)};
}

void RandomStream::seek(std::uint64_t word) {
    block_ = word / 4;
    refill();
    next_ = static_cast<unsigned>(word % 4);
}

void RandomStream::refill() {
    words_ = philox4x32(
        {low_word(block_), high_word(block_), low_word(entity_), high_word(entity_)}, key_);
    ++block_;
    next_ = 0;
}

std::uint32_t RandomStream::word() {
    if (next_ == 4) {
        refill();
    }
    return words_[next_++];
}

std::uint64_t RandomStream::word64() {
    const std::uint64_t high = word();
    return (high << 32U) | word();
}

double RandomStream::uniform() {
    // 53 bits, moved by half a step so that neither 0 nor 1 comes out.
    return (static_cast<double>(word64() >> 11U) + 0.5) * 0x1p-53;
}

std::uint32_t RandomStream::below(std::uint32_t bound) {
    require(bound > 0, "a bound for random numbers is positive");
    // Lemire 2019: multiply, and draw again in the rare biased part.
    std::uint64_t product = std::uint64_t{word()} * bound;
    const std::uint32_t threshold = (0U - bound) % bound;
    while (low_word(product) < threshold) {
        product = std::uint64_t{word()} * bound;
    }
    return high_word(product);
}

double RandomStream::normal() {
    return normal_quantile(uniform());
}

double RandomStream::gamma(double shape) {
    require(shape > 0.0, "a gamma shape is positive");
    if (shape < 1.0) {
        return gamma(shape + 1.0) * std::pow(uniform(), 1.0 / shape);
    }
    const double d = shape - 1.0 / 3.0;
    const double c = 1.0 / std::sqrt(9.0 * d);
    for (;;) {
        const double z = normal();
        const double v = 1.0 + c * z;
        if (v <= 0.0) {
            continue;
        }
        const double cube = v * v * v;
        if (std::log(uniform()) < 0.5 * z * z + d - d * cube + d * std::log(cube)) {
            return d * cube;
        }
    }
}

double RandomStream::beta(double a, double b) {
    const double x = gamma(a);
    const double y = gamma(b);
    return x / (x + y);
}

bool RandomStream::chance(double probability) {
    return uniform() < probability;
}

std::uint32_t RandomStream::poisson(double mean) {
    require(mean >= 0.0, "a Poisson mean is not negative");
    // Large means are halved by the gamma-waiting-time reduction (Ahrens and Dieter 1974).
    std::uint32_t count = 0;
    while (mean > 30.0) {
        const auto half = static_cast<std::uint32_t>(mean / 2.0);
        const double waited = gamma(static_cast<double>(half));
        if (waited > mean) {
            // `half` arrivals take longer than the time left: place half-1 of them evenly in it.
            std::uint32_t inside = 0;
            for (std::uint32_t i = 0; i + 1 < half; ++i) {
                inside += chance(mean / waited) ? 1U : 0U;
            }
            return count + inside;
        }
        count += half;
        mean -= waited;
    }
    double product = uniform();
    const double limit = std::exp(-mean);
    while (product > limit) {
        product *= uniform();
        ++count;
    }
    return count;
}

double normal_cdf(double z) {
    return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

namespace {

template <std::size_t N>
double polynomial(const std::array<double, N>& c, double x) {
    double sum = 0.0;
    for (std::size_t i = N; i-- > 0;) {
        sum = sum * x + c[i];
    }
    return sum;
}

// Coefficients of algorithm AS 241 (PPND16), Wichura 1988, Applied Statistics 37:477-484.
constexpr std::array kA{3.3871328727963666080e0,  1.3314166789178437745e+2,
                        1.9715909503065514427e+3, 1.3731693765509461125e+4,
                        4.5921953931549871457e+4, 6.7265770927008700853e+4,
                        3.3430575583588128105e+4, 2.5090809287301226727e+3};
constexpr std::array kB{1.0,
                        4.2313330701600911252e+1,
                        6.8718700749205790830e+2,
                        5.3941960214247511077e+3,
                        2.1213794301586595867e+4,
                        3.9307895800092710610e+4,
                        2.8729085735721942674e+4,
                        5.2264952788528545610e+3};
constexpr std::array kC{1.42343711074968357734e0,  4.63033784615654529590e0,
                        5.76949722146069140550e0,  3.64784832476320460504e0,
                        1.27045825245236838258e0,  2.41780725177450611770e-1,
                        2.27238449892691845833e-2, 7.74545014278341407640e-4};
constexpr std::array kD{1.0,
                        2.05319162663775882187e0,
                        1.67638483018380384940e0,
                        6.89767334985100004550e-1,
                        1.48103976427480074590e-1,
                        1.51986665636164571966e-2,
                        5.47593808499534494600e-4,
                        1.05075007164441684324e-9};
constexpr std::array kE{6.65790464350110377720e0,  5.46378491116411436990e0,
                        1.78482653991729133580e0,  2.96560571828504891230e-1,
                        2.65321895265761230930e-2, 1.24266094738807843860e-3,
                        2.71155556874348757815e-5, 2.01033439929228813265e-7};
constexpr std::array kF{1.0,
                        5.99832206555887937690e-1,
                        1.36929880922735805310e-1,
                        1.48753612908506148525e-2,
                        7.86869131145613259100e-4,
                        1.84631831751005468180e-5,
                        1.42151175831644588870e-7,
                        2.04426310338993978564e-15};

}  // namespace

double normal_quantile(double p) {
    require(p > 0.0 && p < 1.0, "a probability lies between 0 and 1");
    const double q = p - 0.5;
    if (std::abs(q) <= 0.425) {
        const double r = 0.180625 - q * q;
        return q * polynomial(kA, r) / polynomial(kB, r);
    }
    const double r = std::sqrt(-std::log(q < 0.0 ? p : 1.0 - p));
    const double tail = r <= 5.0 ? polynomial(kC, r - 1.6) / polynomial(kD, r - 1.6)
                                 : polynomial(kE, r - 5.0) / polynomial(kF, r - 5.0);
    return q < 0.0 ? -tail : tail;
}

}  // namespace beetwright
