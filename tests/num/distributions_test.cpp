// Against R (tools/oracles/check.R).
#include "num/distributions.hpp"

#include <gtest/gtest.h>

#include <cmath>
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

}  // namespace
}  // namespace beetwright::num
