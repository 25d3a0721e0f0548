# Values that the tests of what is learned of a harvester are held against, from R and its packages
# ordinal and lme4. Run from the root of the project: Rscript tools/oracles/harvester.R
suppressMessages({library(ordinal); library(lme4)})

rows <- list()
put <- function(name, value) {
  rows[[length(rows) + 1]] <<- sprintf("%s,%.15g", name, value)
}

# Breaks by class of diameter, whole tails first, of beets lifted at six depths [mm]: 200 each.
depths <- c(50, 60, 70, 80, 90, 100)
counts <- rbind(c( 88, 62, 29, 13, 5, 3),
                c(101, 57, 24, 11, 5, 2),
                c(118, 49, 20,  9, 3, 1),
                c(131, 44, 16,  6, 2, 1),
                c(142, 38, 14,  4, 1, 1),
                c(150, 35, 10,  4, 1, 0))
beets <- do.call(rbind, lapply(seq_along(depths), function(i)
  data.frame(y = 1:6, n = counts[i, ], shallow = (75 - depths[i]) / 10)))
beets$y <- factor(beets$y, ordered = TRUE)
# Log odds that fall by the same amount with each 2 cm of diameter.
fit <- clm(y ~ shallow, weights = n, data = beets, threshold = "equidistant")
covariance <- vcov(fit)
put("break at 75 mm", -coef(fit)[["threshold.1"]])
put("break at 75 mm se", sqrt(covariance["threshold.1", "threshold.1"]))
put("fall with 2 cm", coef(fit)[["spacing"]])
put("fall with 2 cm se", sqrt(covariance["spacing", "spacing"]))
put("rise with 1 cm", coef(fit)[["shallow"]])
put("rise with 1 cm se", sqrt(covariance["shallow", "shallow"]))

# Logarithms of soil tare in five fields of one machine, spread of fields and of checks given.
tare <- data.frame(field = factor(c(1, 1, 1, 2, 2, 3, 4, 4, 4, 4, 5)),
                   y = c(-2.31, -2.52, -2.24, -2.95, -2.71, -2.40, -3.10, -2.88, -3.02, -2.97, -2.15))
field_sd <- 0.30
check_sd <- 0.35
evaluate <- lmer(y ~ 1 + (1 | field), data = tare, REML = FALSE, devFunOnly = TRUE)
evaluate(field_sd / check_sd)
pp <- environment(evaluate)$pp
put("machine", pp$beta(1))
for (f in 1:5) put(sprintf("field %d", f), pp$b(1)[f])
put("machine se", sqrt(pp$unsc()[1, 1]) * check_sd)

writeLines(c(sprintf("# %s; ordinal %s; lme4 %s. Made by tools/oracles/harvester.R", R.version.string,
                     packageVersion("ordinal"), packageVersion("lme4")),
             "name,value", unlist(rows)), "tests/oracles/harvester.csv")
