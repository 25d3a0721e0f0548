# Values that the tests of src/beet are held against, from R and its package nlme. Run from the root
# of the project: Rscript tools/oracles/beet.R
suppressMessages(library(nlme))

rows <- list()
put <- function(name, value) {
  rows[[length(rows) + 1]] <<- sprintf("%s,%.15g", name, value)
}

# Mass lost at a break diameter, three published tables (docs/methods/tip.md).
tip <- data.frame(source = c("AIMCRA", "AIMCRA", "AIMCRA", "Bologna", "Bologna", "Bologna", "wiki", "wiki"),
                  cm = c(3, 5, 7, 3, 5, 8, 3, 6), percent = c(3, 8, 19, 4, 10, 31, 3, 11))
tip$x <- log(tip$cm / 5)
tip$y <- log(tip$percent)

# One line for all, least squares on logarithms.
line <- lm(y ~ x, tip)
put("tip line at 5 cm", exp(coef(line)[[1]]))
put("tip line exponent", coef(line)[[2]])
put("tip line residual", summary(line)$sigma)
put("tip line exponent error", summary(line)$coefficients[2, 2])

# The same with an offset for each source, by REML: how far sources differ, and how far off their mean is.
mixed <- lme(y ~ x, random = ~ 1 | source, data = tip, method = "REML")
between <- as.numeric(VarCorr(mixed)["(Intercept)", "StdDev"])
put("tip sources at 5 cm", exp(fixef(mixed)[[1]]))
put("tip sources exponent", fixef(mixed)[[2]])
put("tip sources between", between)
put("tip sources new source", sqrt(between^2 + vcov(mixed)[1, 1]))

# Over-topping by depth: a line through zero, all four tables.
depth <- c(1, 2, 3, 1, 2, 1, 2, 1)
lost <- c(8, 15, 20, 8, 15, 6, 15, 5)
put("topping line through zero", coef(lm(lost ~ 0 + depth))[[1]])

# Moments of a lognormal by quadrature: mean 1, coefficient of variation 0.45.
s <- sqrt(log(1 + 0.45^2))
for (p in c(1/3, 2/3, 2, 0.3)) put(sprintf("lognormal moment %.4f", p),
  integrate(function(z) exp(p * (s * z - s^2 / 2)) * dnorm(z), -12, 12, rel.tol = 1e-12)$value)

writeLines(c(sprintf("# %s; nlme %s. Made by tools/oracles/beet.R", R.version.string, packageVersion("nlme")),
             "name,value", unlist(rows)), "tests/oracles/beet.csv")
