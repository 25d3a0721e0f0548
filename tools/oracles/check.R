# Values that the tests of src/check and src/num are held against, from R and its packages survey
# and lme4. Run from the root of the project: Rscript tools/oracles/check.R
suppressMessages({library(survey); library(lme4)})
options(survey.lonely.psu = "fail")

rows <- list()
put <- function(name, value) {
  rows[[length(rows) + 1]] <<- sprintf("%s,%.15g", name, value)
}

# Standard normal, Student, gamma, beta, binomial, hypergeometric.
for (p in c(1e-12, 1e-5, 0.01, 0.05, 0.3, 0.5, 0.9, 0.975, 1 - 1e-9)) put(sprintf("qnorm %.15g", p), qnorm(p))
for (df in c(3, 5, 9, 19)) for (p in c(0.05, 0.2, 0.9, 0.95)) put(sprintf("qt %g %g", p, df), qt(p, df))
for (a in c(0.5, 1.5, 4, 20)) for (p in c(0.05, 0.5, 0.95)) put(sprintf("qgamma %g %g", p, a), qgamma(p, a))
put("pbeta 0.1 3.3 17.3", pbeta(0.1, 3 + 1/3, 17 + 1/3))
put("qbeta 0.9 1.3 19.3", qbeta(0.9, 1 + 1/3, 19 + 1/3))
put("pbinom 2 10 0.2", pbinom(2, 10, 0.2))
put("phyper 3 4 20 40", phyper(3, 4, 36, 20))

# Wilson score intervals at 95 %: prop.test without continuity correction.
for (xn in list(c(5, 100), c(10, 100), c(15, 100), c(20, 100), c(30, 200), c(45, 300), c(2, 10))) {
  ci <- prop.test(xn[1], xn[2], correct = FALSE)$conf.int
  put(sprintf("wilson low %d %d", xn[1], xn[2]), ci[1])
  put(sprintf("wilson high %d %d", xn[1], xn[2]), ci[2])
}

# Beets for a half-width at 95 %.
n_for <- function(p, w) ceiling(qnorm(0.975)^2 * p * (1 - p) / w^2)
put("n 0.10 0.05", n_for(0.10, 0.05)); put("n 0.15 0.05", n_for(0.15, 0.05))
put("n 0.20 0.05", n_for(0.20, 0.05)); put("n 0.05 0.03", n_for(0.05, 0.03))

# Fisher's exact test, two-sided, and with mid-p.
fisher <- function(x1, n1, x2, n2) {
  p <- fisher.test(matrix(c(x1, n1 - x1, x2, n2 - x2), 2))$p.value
  here <- dhyper(x2, x1 + x2, n1 + n2 - x1 - x2, n2)
  all <- dhyper(0:min(x1 + x2, n2), x1 + x2, n1 + n2 - x1 - x2, n2)
  c(p, p - 0.5 * sum(all[abs(all - here) < 1e-9 * here]))
}
for (q in list(c(1, 20, 3, 20), c(5, 100, 15, 100), c(10, 100, 12, 100), c(0, 50, 6, 50))) {
  f <- fisher(q[1], q[2], q[3], q[4])
  put(sprintf("fisher %d %d %d %d", q[1], q[2], q[3], q[4]), f[1])
  put(sprintf("fisher mid %d %d %d %d", q[1], q[2], q[3], q[4]), f[2])
}

# Beets in each check for 90 % power at 10 % two-sided false alarm.
put("power n 0.05 0.15", ceiling(power.prop.test(p1 = 0.05, p2 = 0.15, sig.level = 0.10, power = 0.90)$n))
put("power n 0.05 0.10", ceiling(power.prop.test(p1 = 0.05, p2 = 0.10, sig.level = 0.10, power = 0.90)$n))

# The smallest exact single-sample plan of 5 % against 10 %, both risks 10 %.
plan <- function(p0, p1, alpha, beta) {
  for (n in 1:5000) {
    c <- qbinom(1 - alpha, n, p0)
    if (pbinom(c, n, p1) <= beta) return(c(n, c))
  }
}
pl <- plan(0.05, 0.10, 0.10, 0.10); put("plan n", pl[1]); put("plan most", pl[2])

# A limit on the sum of several spots whose beets are alike: beta-binomial spots, convolved.
dbetabinom <- function(x, n, p, rho) {
  if (rho == 0) return(dbinom(x, n, p))
  s <- 1 / rho - 1
  exp(lchoose(n, x) + lbeta(x + p * s, n - x + (1 - p) * s) - lbeta(p * s, (1 - p) * s))
}
for (rho in c(0, 0.06, 0.15)) for (p in c(0.15, 0.20, 0.25)) {
  one <- dbetabinom(0:10, 10, p, rho)
  sum <- 1
  for (i in 1:10) {
    wide <- numeric(length(sum) + 10)
    for (k in 0:10) wide[k + seq_along(sum)] <- wide[k + seq_along(sum)] + sum * one[k + 1]
    sum <- wide
  }
  put(sprintf("spots 10 10 20 %g %g", p, rho), sum(sum[1:21]))
}

# Cluster variance of a ratio, and the intra-spot correlation, on the fixed data set.
d <- read.csv("tests/oracles/spots.csv", comment.char = "#")
design <- svydesign(ids = ~spot, data = d, weights = ~1)
r <- svyratio(~rejects, ~beets, design)
put("survey ratio rejects", coef(r)); put("survey variance rejects", vcov(r))
r <- svyratio(~break_sum_cm2, ~beets, design)
put("survey ratio breaks", coef(r)); put("survey variance breaks", vcov(r))
beets <- do.call(rbind, lapply(seq_len(nrow(d)), function(i)
  data.frame(spot = d$spot[i], hit = c(rep(1, d$rejects[i]), rep(0, d$beets[i] - d$rejects[i])))))
m <- lmer(hit ~ 1 + (1 | spot), data = beets)
v <- as.data.frame(VarCorr(m))$vcov
put("lme4 intra-spot correlation", v[1] / sum(v))

header <- sprintf("# %s; survey %s; lme4 %s. Made by tools/oracles/check.R", R.version.string,
                  packageVersion("survey"), packageVersion("lme4"))
writeLines(c(header, "name,value", unlist(rows)), "tests/oracles/check.csv")
