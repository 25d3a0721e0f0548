// Against R (tools/oracles/check.R).
#include "num/distributions.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <boost/math/distributions/hypergeometric.hpp>

#include <cmath>
#include <limits>
#include <numbers>
#include <string>

#include "base/random.hpp"
#include "oracle.hpp"

namespace beetwright::num {
namespace {

const Oracle& r() {
    static const Oracle oracle("check");
    return oracle;
}

std::string short_number(double value) {
    char text[32];
    std::snprintf(text, sizeof text, "%.15g", value);
    return text;
}

TEST(Distributions, NormalQuantileAgreesWithR) {
    for (const double p : {1e-12, 1e-5, 0.01, 0.05, 0.3, 0.5, 0.9, 0.975, 1 - 1e-9}) {
        const double expected = r().at("qnorm " + short_number(p));
        // 1 - 1e-9 is stored to 1e-16, which moves its quantile by 2e-8.
        const double tolerance = p > 0.999 ? 1e-7 : 1e-13 * (1.0 + std::abs(expected));
        EXPECT_NEAR(normal_quantile(p), expected, tolerance);
    }
}

TEST(Distributions, StudentAndGammaQuantilesAgreeWithR) {
    for (const double freedom : {3.0, 5.0, 9.0, 19.0}) {
        for (const double p : {0.05, 0.2, 0.9, 0.95}) {
            EXPECT_NEAR(student_quantile(p, freedom),
                        r().at("qt " + short_number(p) + " " + short_number(freedom)), 1e-10);
        }
    }
    for (const double shape : {0.5, 1.5, 4.0, 20.0}) {
        for (const double p : {0.05, 0.5, 0.95}) {
            const double expected = r().at("qgamma " + short_number(p) + " " + short_number(shape));
            EXPECT_NEAR(gamma_quantile(p, shape), expected, 1e-9 * (1.0 + expected));
        }
    }
}

// R's quantiles, taken back to their chances; 1e-9 of a quantile moves no chance by more than that.
TEST(Distributions, StudentAndGammaChancesAgreeWithR) {
    for (const double p : {0.05, 0.2, 0.9, 0.95}) {
        for (const double freedom : {3.0, 5.0, 9.0, 19.0}) {
            const double t = r().at("qt " + short_number(p) + " " + short_number(freedom));
            EXPECT_NEAR(student_cdf(t, freedom), p, 1e-10);
        }
    }
    for (const double p : {0.05, 0.5, 0.95}) {
        for (const double shape : {0.5, 1.5, 4.0, 20.0}) {
            const double x = r().at("qgamma " + short_number(p) + " " + short_number(shape));
            EXPECT_NEAR(gamma_cdf(x, shape), p, 1e-9);
        }
    }
}

TEST(Distributions, CountsAgreeWithR) {
    EXPECT_NEAR(beta_cdf(0.1, 3 + 1.0 / 3, 17 + 1.0 / 3), r().at("pbeta 0.1 3.3 17.3"), 1e-12);
    EXPECT_NEAR(beta_quantile(0.9, 1 + 1.0 / 3, 19 + 1.0 / 3), r().at("qbeta 0.9 1.3 19.3"), 1e-12);
    EXPECT_NEAR(binomial_cdf(2, 10, 0.2), r().at("pbinom 2 10 0.2"), 1e-12);
    EXPECT_NEAR(hypergeometric_cdf(3, 4, 20, 40), r().at("phyper 3 4 20 40"), 1e-12);
}

// Boost's own, which the engine leaves out for its size, as a reference over the range of counts.
TEST(Distributions, DrawingWithoutPuttingBackAgreesWithBoost) {
    RandomStream random(9, "hypergeometric");
    for (int i = 0; i < 2000; ++i) {
        const int all = 1 + static_cast<int>(random.below(i < 1000 ? 60 : 4000));
        const int marked = static_cast<int>(random.below(static_cast<std::uint32_t>(all + 1)));
        const int draws = static_cast<int>(random.below(static_cast<std::uint32_t>(all + 1)));
        const boost::math::hypergeometric reference(static_cast<unsigned>(marked),
                                                    static_cast<unsigned>(draws),
                                                    static_cast<unsigned>(all));
        const int least = std::max(0, draws + marked - all);
        const int most = std::min(marked, draws);
        const int hits =
            least + static_cast<int>(random.below(static_cast<std::uint32_t>(most - least + 1)));
        const auto where = std::to_string(hits) + " of " + std::to_string(marked) + ", " +
                           std::to_string(draws) + " of " + std::to_string(all);
        const double pmf = boost::math::pdf(reference, static_cast<unsigned>(hits));
        EXPECT_NEAR(hypergeometric_pmf(hits, marked, draws, all), pmf, 1e-10 * pmf + 1e-300)
            << where;
        const double cdf = boost::math::cdf(reference, static_cast<unsigned>(hits));
        EXPECT_NEAR(hypergeometric_cdf(hits, marked, draws, all), cdf, 1e-11) << where;
    }
    EXPECT_EQ(hypergeometric_pmf(-1, 3, 4, 10), 0.0);
    EXPECT_EQ(hypergeometric_pmf(4, 3, 4, 10), 0.0);
    EXPECT_EQ(hypergeometric_cdf(-1, 3, 4, 10), 0.0);
    EXPECT_EQ(hypergeometric_cdf(3, 3, 4, 10), 1.0);
}

TEST(Distributions, BetaBinomialIsTheBinomialWhenNothingIsAlike) {
    for (int limit = 0; limit <= 10; ++limit) {
        EXPECT_NEAR(beta_binomial_cdf(limit, 10, 0.3, 0.0), binomial_cdf(limit, 10, 0.3), 1e-12);
        EXPECT_NEAR(beta_binomial_cdf(limit, 10, 0.3, 1e-9), binomial_cdf(limit, 10, 0.3), 1e-5);
    }
    // Uniform chance (mean 1/2, correlation 1/3): every number of hits is as likely as any other.
    EXPECT_NEAR(beta_binomial_cdf(3, 10, 0.5, 1.0 / 3.0), 4.0 / 11.0, 1e-12);
}

TEST(Distributions, BetaBinomialTakesAnyLimit) {
    for (const double correlation : {0.0, 0.2}) {
        EXPECT_EQ(beta_binomial_cdf(-1, 10, 0.3, correlation), 0.0);
        EXPECT_NEAR(beta_binomial_cdf(11, 10, 0.3, correlation), 1.0, 1e-12);
    }
}

/// The pair's chance as an integral over one of the two, by Simpson's rule from -9 to x.
double pair_by_simpson(double x, double y, double correlation) {
    constexpr int kSteps = 20000;
    const double root = std::sqrt(1.0 - correlation * correlation);
    const double width = (x + 9.0) / kSteps;
    double sum = 0.0;
    for (int i = 0; i <= kSteps; ++i) {
        const double z = -9.0 + i * width;
        const double weight = i == 0 || i == kSteps ? 1.0 : i % 2 == 1 ? 4.0 : 2.0;
        sum += weight * std::exp(-0.5 * z * z) * normal_cdf((y - correlation * z) / root);
    }
    return sum * width / 3.0 / std::sqrt(2.0 * std::numbers::pi);
}

// Sheppard 1898: a quadrant holds 1/4 + asin(correlation) / 2 pi.
TEST(Distributions, NormalPairsAgreeWithClosedFormsAndAnIntegral) {
    for (const double c : {-0.95, -0.5, 0.0, 0.3, 0.9, 0.99}) {
        EXPECT_NEAR(normal_pair_cdf(0.0, 0.0, c), 0.25 + std::asin(c) / (2.0 * std::numbers::pi),
                    1e-15);
        for (const double x : {-2.5, -1.0, -1e-9, 0.0, 0.4, 1.7, 3.0}) {
            for (const double y : {-3.0, -0.7, 0.0, 1e-9, 0.4, 2.0}) {
                EXPECT_NEAR(normal_pair_cdf(x, y, c), pair_by_simpson(x, y, c), 1e-12)
                    << x << ' ' << y << ' ' << c;
                EXPECT_NEAR(normal_pair_cdf(x, y, c), normal_pair_cdf(y, x, c), 1e-15);
                // What lies left of x lies below or above y.
                EXPECT_NEAR(normal_pair_cdf(x, y, c) + normal_pair_cdf(x, -y, -c), normal_cdf(x),
                            1e-14);
            }
        }
    }
}

TEST(Distributions, NormalPairsAtTheirEnds) {
    constexpr double kInfinite = std::numeric_limits<double>::infinity();
    for (const double x : {-1.5, 0.0, 0.8}) {
        for (const double c : {-1.0, -0.4, 0.0, 0.7, 1.0}) {
            EXPECT_NEAR(normal_pair_cdf(x, kInfinite, c), normal_cdf(x), 1e-15);
            EXPECT_EQ(normal_pair_cdf(x, -kInfinite, c), 0.0);
        }
        EXPECT_NEAR(normal_pair_cdf(x, 0.3, 0.0), normal_cdf(x) * normal_cdf(0.3), 1e-15);
        EXPECT_EQ(normal_pair_cdf(x, 0.3, 1.0), normal_cdf(std::min(x, 0.3)));
        EXPECT_NEAR(normal_pair_cdf(x, 0.3, -1.0), std::max(0.0, normal_cdf(x) - normal_cdf(-0.3)),
                    1e-15);
        // Nearly one of them: no jump on the way there, whose last step is of the order of the
        // root.
        EXPECT_NEAR(normal_pair_cdf(x, 0.3, 1.0 - 1e-12), normal_cdf(std::min(x, 0.3)), 1e-6);
    }
}

}  // namespace
}  // namespace beetwright::num
