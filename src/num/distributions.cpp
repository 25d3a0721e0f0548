#include "num/distributions.hpp"

// Boost must neither throw nor look for exceptions here.
#define BOOST_NO_EXCEPTIONS
#define BOOST_EXCEPTION_DISABLE
// Nor for threads, where there are none.
#if defined(__wasi__)
#define BOOST_DISABLE_THREADS
#endif

#include <algorithm>
#include <array>
#include <boost/math/distributions/beta.hpp>
#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/gamma.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <boost/math/special_functions/beta.hpp>
#include <cmath>
#include <exception>
#include <numbers>

#include "base/contract.hpp"
#include "base/random.hpp"

namespace boost {
// What Boost calls instead of `throw` when exceptions are off.
void throw_exception(const std::exception&) {
    beetwright::stop_for_a_bug("a distribution is asked within its range", __FILE__, __LINE__);
}
void throw_exception(const std::exception& error, const source_location&) {
    throw_exception(error);
}
}  // namespace boost

namespace beetwright::num {
namespace {

namespace policies = boost::math::policies;
// In the form that Boost gives it inside: else most of its functions would be compiled once for
// either.
using Quiet =
    policies::normalise<policies::policy<policies::domain_error<policies::errno_on_error>,
                                         policies::pole_error<policies::errno_on_error>,
                                         policies::overflow_error<policies::errno_on_error>,
                                         policies::evaluation_error<policies::errno_on_error>,
                                         policies::rounding_error<policies::errno_on_error>>,
                        policies::promote_float<false>, policies::promote_double<false>,
                        policies::discrete_quantile<>, policies::assert_undefined<>>::type;

using Beta = boost::math::beta_distribution<double, Quiet>;
using Binomial = boost::math::binomial_distribution<double, Quiet>;

void require_count(int hits, int n, double p) {
    require(n >= 0 && hits >= 0 && hits <= n, "hits lie between 0 and the number counted");
    require(p >= 0.0 && p <= 1.0, "a chance lies between 0 and 1");
}

double binomial_pmf(int hits, int n, double p) {
    return boost::math::pdf(Binomial(n, p), hits);
}

/// The chance of one hit less over that of these hits.
double one_less(int hits, int marked, int draws, int all) {
    return static_cast<double>(hits) / (marked - hits + 1) *
           (static_cast<double>(all - marked - draws + hits) / (draws - hits + 1));
}

/// One of the two Owen's T of a pair of limits, h and the other; also at h = 0.
///
/// By Gauss and Legendre's rule over what is even in its variable, with twenty points, of which
/// those above zero do (Patefield and Tandy 2000, J. Stat. Softw. 5(5), their T5). Where a = u / h
/// is over 1, h and u change places.
double owens_half(double h, double other, double correlation, double root) {
    if (h == 0.0) {
        return std::copysign(0.25, other);
    }
    constexpr std::array<std::array<double, 2>, 10> kPoints{{
        {0.07652652113349733, 0.15275338713072585},
        {0.22778585114164508, 0.14917298647260375},
        {0.37370608871541956, 0.14209610931838205},
        {0.51086700195082710, 0.13168863844917663},
        {0.63605368072651503, 0.11819453196151842},
        {0.74633190646015079, 0.10193011981724044},
        {0.83911697182221882, 0.08327674157670475},
        {0.91223442825132591, 0.06267204833410906},
        {0.96397192727791379, 0.04060142980038694},
        {0.99312859918509492, 0.01761400713915212},
    }};
    const double u = (other - correlation * h) / root;
    const bool is_turned = std::abs(u) > std::abs(h);
    const double large = is_turned ? u : h;
    const double ratio = is_turned ? h / u : u / h;
    double sum = 0.0;
    for (const auto& [point, weight] : kPoints) {
        const double more = 1.0 + ratio * ratio * point * point;
        sum += weight * std::exp(-0.5 * large * large * more) / more;
    }
    const double t = sum * ratio / (2.0 * std::numbers::pi);
    if (!is_turned) {
        return t;
    }
    const double below_h = normal_cdf(h);
    const double below_u = normal_cdf(u);
    return 0.5 * (below_h + below_u) - below_h * below_u - t - (ratio < 0.0 ? 0.5 : 0.0);
}

}  // namespace

double binomial_cdf(int hits, int n, double p) {
    require_count(hits, n, p);
    return boost::math::cdf(Binomial(n, p), hits);
}

double beta_cdf(double x, double a, double b) {
    return boost::math::cdf(Beta(a, b), x);
}

double beta_quantile(double p, double a, double b) {
    require(p > 0.0 && p < 1.0, "a chance lies between 0 and 1");
    return boost::math::quantile(Beta(a, b), p);
}

// By three binomial chances (Loader 2000, Fast and Accurate Computation of Binomial Probabilities),
// which Boost has. Its own hypergeometric brings a table of 10,000 primes into every browser.
double hypergeometric_pmf(int hits, int marked, int draws, int all) {
    require(marked >= 0 && draws >= 0 && marked <= all && draws <= all,
            "no more are marked or drawn than there are");
    const int least = std::max(0, draws + marked - all);
    const int most = std::min(marked, draws);
    if (hits < least || hits > most) {
        return 0.0;
    }
    if (least == most) {
        return 1.0;
    }
    const double p = static_cast<double>(draws) / all;
    return binomial_pmf(hits, marked, p) * binomial_pmf(draws - hits, all - marked, p) /
           binomial_pmf(draws, all, p);
}

double hypergeometric_cdf(int hits, int marked, int draws, int all) {
    const int least = std::max(0, draws + marked - all);
    const int most = std::min(marked, draws);
    if (hits < least) {
        return 0.0;
    }
    if (hits >= most) {
        return 1.0;
    }
    // The side on which there is less is summed, from its largest term outward.
    const bool is_low = hits < static_cast<double>(marked) * draws / all;
    double sum = 0.0;
    if (is_low) {
        double term = hypergeometric_pmf(hits, marked, draws, all);
        for (int h = hits; h >= least; --h) {
            sum += term;
            term *= one_less(h, marked, draws, all);
        }
        return sum;
    }
    double term = hypergeometric_pmf(hits + 1, marked, draws, all);
    for (int h = hits + 1; h <= most; ++h) {
        sum += term;
        term = h < most ? term / one_less(h + 1, marked, draws, all) : 0.0;
    }
    return 1.0 - sum;
}

double beta_binomial_cdf(int limit, int n, double mean, double correlation) {
    require_count(std::clamp(limit, 0, n), n, mean);
    if (limit < 0) {
        return 0.0;
    }
    if (correlation <= 0.0 || mean <= 0.0 || mean >= 1.0) {
        return binomial_cdf(std::min(limit, n), n, mean);
    }
    const double size = 1.0 / correlation - 1.0;
    const double a = mean * size;
    const double b = (1.0 - mean) * size;
    double sum = 0.0;
    for (int hits = 0; hits <= std::min(limit, n); ++hits) {
        const double log_ways =
            std::lgamma(n + 1.0) - std::lgamma(hits + 1.0) - std::lgamma(n - hits + 1.0);
        const double log_beta = std::lgamma(hits + a) + std::lgamma(n - hits + b) -
                                std::lgamma(n + a + b) - std::lgamma(a) - std::lgamma(b) +
                                std::lgamma(a + b);
        sum += std::exp(log_ways + log_beta);
    }
    return std::min(1.0, sum);
}

double student_quantile(double p, double freedom) {
    require(p > 0.0 && p < 1.0, "a chance lies between 0 and 1");
    return boost::math::quantile(boost::math::students_t_distribution<double, Quiet>(freedom), p);
}

double gamma_quantile(double p, double shape) {
    require(p > 0.0 && p < 1.0, "a chance lies between 0 and 1");
    return boost::math::quantile(boost::math::gamma_distribution<double, Quiet>(shape, 1.0), p);
}

double student_cdf(double t, double freedom) {
    return boost::math::cdf(boost::math::students_t_distribution<double, Quiet>(freedom), t);
}

double gamma_cdf(double x, double shape) {
    require(x >= 0.0, "a gamma amount is not negative");
    return boost::math::cdf(boost::math::gamma_distribution<double, Quiet>(shape, 1.0), x);
}

double normal_pair_cdf(double x, double y, double correlation) {
    require(correlation >= -1.0 && correlation <= 1.0, "a correlation lies between -1 and 1");
    if (correlation == 1.0) {
        return normal_cdf(std::min(x, y));
    }
    if (correlation == -1.0) {
        return std::max(0.0, normal_cdf(x) - normal_cdf(-y));
    }
    // Beyond this Owen's T would be asked for infinity over infinity; what is left out is 1e-300.
    constexpr double kFar = 37.0;
    if (x < -kFar || y < -kFar) {
        return 0.0;
    }
    if (x > kFar || y > kFar) {
        return normal_cdf(std::min(x, y));
    }
    if (x == 0.0 && y == 0.0) {
        return 0.25 + std::asin(correlation) / (2.0 * std::numbers::pi);
    }
    const double root = std::sqrt((1.0 - correlation) * (1.0 + correlation));
    const bool is_opposed = x * y < 0.0 || (x * y == 0.0 && x + y < 0.0);
    const double chance = 0.5 * (normal_cdf(x) + normal_cdf(y)) -
                          owens_half(x, y, correlation, root) -
                          owens_half(y, x, correlation, root) - (is_opposed ? 0.5 : 0.0);
    return std::clamp(chance, 0.0, 1.0);
}

}  // namespace beetwright::num
