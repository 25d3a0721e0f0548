// Random numbers that depend on what they are for, never on when or by which thread they are drawn.
//
// A stream is named by the run's seed, a purpose ("tails", "lab") and an entity (a field's id): the
// name is the key of the counter-based generator Philox4x32-10 (Salmon et al. 2011, "Parallel
// random numbers: as easy as 1, 2, 3", SC11). The n-th number of a stream can be had without the
// ones before it.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace beetwright {

/// One block of Philox4x32-10: four 32-bit words from a 128-bit counter and a 64-bit key.
std::array<std::uint32_t, 4> philox4x32(std::array<std::uint32_t, 4> counter,
                                        std::array<std::uint32_t, 2> key);

/// A 64-bit hash of text (FNV-1a with a final mix) for naming streams; stable for ever.
std::uint64_t stable_hash(std::string_view text);

class RandomStream {
 public:
    RandomStream(std::uint64_t seed, std::string_view purpose, std::uint64_t entity = 0);
    RandomStream(std::uint64_t seed, std::string_view purpose, std::string_view entity)
        : RandomStream(seed, purpose, stable_hash(entity)) {}

    /// Skips to the n-th 32-bit word of the stream.
    void seek(std::uint64_t word);

    std::uint32_t word();
    std::uint64_t word64();
    /// In the open interval (0, 1), 53 bits.
    double uniform();
    /// A whole number in [0, bound), without bias. bound > 0.
    std::uint32_t below(std::uint32_t bound);
    /// Standard normal, by the inverse of its distribution function: one uniform each.
    double normal();
    /// Gamma with this shape (> 0) and unit scale (Marsaglia and Tsang 2000).
    double gamma(double shape);
    /// Beta(a, b), a > 0, b > 0.
    double beta(double a, double b);
    /// True with this probability.
    bool chance(double probability);
    /// Poisson counts with this mean (>= 0).
    std::uint32_t poisson(double mean);

 private:
    void refill();

    std::array<std::uint32_t, 2> key_{};
    std::uint64_t entity_ = 0;
    std::uint64_t block_ = 0;
    std::array<std::uint32_t, 4> words_{};
    unsigned next_ = 4;
};

/// Quantile of the standard normal distribution, 0 < p < 1, to about 1e-15 relative (Wichura 1988,
/// algorithm AS 241, PPND16).
double normal_quantile(double p);
/// Distribution function of the standard normal.
double normal_cdf(double z);

}  // namespace beetwright
