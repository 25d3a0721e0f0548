// Distribution functions that statistics of counts need, by way of Boost.Math.
//
// Boost's headers are seen in the .cpp alone, and nothing throws: arguments out of range are our
// own bugs and stop the program.
#pragma once

namespace beetwright::num {

/// P(X <= hits) for hits of n at chance p. 0 <= hits <= n, 0 <= p <= 1.
double binomial_cdf(int hits, int n, double p);

/// Beta distribution, a > 0, b > 0, 0 <= x <= 1.
double beta_cdf(double x, double a, double b);
/// 0 < p < 1.
double beta_quantile(double p, double a, double b);

/// P(X <= hits) when `draws` beets are taken without putting back from `all`, of which `marked` are
/// marked.
double hypergeometric_cdf(int hits, int marked, int draws, int all);
double hypergeometric_pmf(int hits, int marked, int draws, int all);

/// P(hits <= limit) of n when the chance itself varies as beta with this mean and intra-group
/// correlation (beta-binomial; 0 <= correlation < 1; 0 is the binomial). Any limit.
double beta_binomial_cdf(int limit, int n, double mean, double correlation);

/// Quantile of Student's t, 0 < p < 1, freedom > 0, and of the gamma distribution of unit scale.
double student_quantile(double p, double freedom);
double gamma_quantile(double p, double shape);
/// Their distribution functions; x >= 0 for the gamma's.
double student_cdf(double t, double freedom);
double gamma_cdf(double x, double shape);

/// P(X <= x and Y <= y) of two standard normals with this correlation, within -1 and 1. By Owen's T
/// (Owen 1956, Ann. Math. Statist. 27:1075-1090), to 1e-15 of 1.
double normal_pair_cdf(double x, double y, double correlation);

}  // namespace beetwright::num
