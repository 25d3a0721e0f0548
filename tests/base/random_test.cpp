#include "base/random.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <vector>

namespace beetwright {
namespace {

using Words = std::array<std::uint32_t, 4>;

// Known answers of Philox4x32-10 as published with the generator's reference library (Random123)
// [M].
TEST(Philox, GivesThePublishedKnownAnswers) {
    EXPECT_EQ(philox4x32({0, 0, 0, 0}, {0, 0}),
              (Words{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}));
    EXPECT_EQ(philox4x32({~0U, ~0U, ~0U, ~0U}, {~0U, ~0U}),
              (Words{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}));
    EXPECT_EQ(
        philox4x32({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0}),
        (Words{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}));
}

TEST(RandomStream, DependsOnWhatItIsForAndOnNothingElse) {
    const auto first = [](std::uint64_t seed, std::string_view purpose, std::string_view entity) {
        return RandomStream(seed, purpose, entity).word64();
    };
    EXPECT_EQ(first(1, "tails", "Long Acre"), first(1, "tails", "Long Acre"));
    std::set<std::uint64_t> different{first(1, "tails", "Long Acre"),
                                      first(2, "tails", "Long Acre"), first(1, "lab", "Long Acre"),
                                      first(1, "tails", "Mill Field")};
    EXPECT_EQ(different.size(), 4U);
}

TEST(RandomStream, SeeksToAnyWord) {
    RandomStream forward(3, "seek");
    std::vector<std::uint32_t> words(50);
    std::ranges::generate(words, [&] { return forward.word(); });
    for (const std::uint64_t at : {0U, 1U, 4U, 7U, 33U}) {
        RandomStream jumped(3, "seek");
        jumped.seek(at);
        EXPECT_EQ(jumped.word(), words[at]);
    }
}

// Kolmogorov and Smirnov: the greatest distance between the sample's and the true distribution
// function passes 1.95 / sqrt(n) with chance 0.1 %. Fixed seeds.
double distance(std::vector<double> sample, double (*cdf)(double)) {
    std::ranges::sort(sample);
    const auto n = static_cast<double>(sample.size());
    double greatest = 0.0;
    for (std::size_t i = 0; i < sample.size(); ++i) {
        const double f = cdf(sample[i]);
        greatest = std::max(
            {greatest, f - static_cast<double>(i) / n, static_cast<double>(i + 1) / n - f});
    }
    return greatest * std::sqrt(n);
}

std::vector<double> sample(double (*draw)(RandomStream&)) {
    RandomStream random(4, "distributions");
    std::vector<double> values(20000);
    std::ranges::generate(values, [&] { return draw(random); });
    return values;
}

TEST(RandomStream, DrawsTheDistributionsItNames) {
    EXPECT_LT(
        distance(sample([](RandomStream& r) { return r.uniform(); }), [](double x) { return x; }),
        1.95);
    EXPECT_LT(distance(sample([](RandomStream& r) { return r.normal(); }), normal_cdf), 1.95);
    EXPECT_LT(distance(sample([](RandomStream& r) { return r.gamma(1.0); }),
                       [](double x) { return 1.0 - std::exp(-x); }),
              1.95);
    // Gamma of shape 1/2 is half a squared normal: P(X < x) = erf(sqrt x).
    EXPECT_LT(distance(sample([](RandomStream& r) { return r.gamma(0.5); }),
                       [](double x) { return std::erf(std::sqrt(x)); }),
              1.95);
    // Beta(2, 1) has distribution function x^2.
    EXPECT_LT(distance(sample([](RandomStream& r) { return r.beta(2.0, 1.0); }),
                       [](double x) { return x * x; }),
              1.95);
}

TEST(RandomStream, PoissonHasItsMeanAndVariance) {
    // Standard error of a mean over 20,000 draws: sqrt(mean / 20000); five of them are allowed.
    for (const double mean : {0.3, 4.0, 80.0}) {
        RandomStream random(5, "poisson");
        double sum = 0.0;
        double squares = 0.0;
        constexpr int kDraws = 20000;
        for (int i = 0; i < kDraws; ++i) {
            const double x = random.poisson(mean);
            sum += x;
            squares += x * x;
        }
        const double average = sum / kDraws;
        EXPECT_NEAR(average, mean, 5.0 * std::sqrt(mean / kDraws));
        EXPECT_NEAR((squares / kDraws - average * average) / mean, 1.0, 0.06);
    }
}

TEST(RandomStream, BelowIsEven) {
    RandomStream random(6, "below");
    std::array<int, 7> counts{};
    for (int i = 0; i < 70000; ++i) {
        ++counts[random.below(7)];
    }
    for (const int count : counts) {
        EXPECT_NEAR(count, 10000, 5 * 93);  // standard deviation sqrt(70000 x 6/49) = 93
    }
}

}  // namespace
}  // namespace beetwright
