# Values that the tests of src/ground are held against: the variogram and the kriging of zinc in the
# flood plain of the Meuse (data set meuse of package sp) by package gstat. Run from the root of the
# project: Rscript tools/oracles/ground.R
suppressMessages({library(sp); library(gstat)})

rows <- list()
put <- function(name, value) {
  rows[[length(rows) + 1]] <<- sprintf("%s,%.15g", name, value)
}

data(meuse); data(meuse.grid)
coordinates(meuse) <- ~x + y
coordinates(meuse.grid) <- ~x + y
put("samples", nrow(meuse))
for (i in seq_len(nrow(meuse))) {
  put(sprintf("sample %d east", i), coordinates(meuse)[i, 1])
  put(sprintf("sample %d north", i), coordinates(meuse)[i, 2])
  put(sprintf("sample %d log zinc", i), log(meuse$zinc[i]))
}

classes <- variogram(log(zinc) ~ 1, meuse)
put("cutoff", sqrt(sum(apply(bbox(meuse), 1, diff)^2)) / 3)
put("classes", nrow(classes))
for (i in seq_len(nrow(classes))) {
  put(sprintf("class %d distance", i), classes$dist[i])
  put(sprintf("class %d semivariance", i), classes$gamma[i])
  put(sprintf("class %d pairs", i), classes$np[i])
}
for (shape in c("Sph", "Exp")) {
  fit <- fit.variogram(classes, vgm(1, shape, 900, 1))
  put(paste(shape, "nugget"), fit$psill[1])
  put(paste(shape, "sill"), fit$psill[2])
  put(paste(shape, "range"), fit$range[2])
}

model <- vgm(0.59, "Sph", 897, 0.05)
places <- meuse.grid[seq(1, nrow(meuse.grid), by = 211), ]
put("places", nrow(coordinates(places)))
near <- krige(log(zinc) ~ 1, meuse, places, model, nmax = 24, debug.level = 0)
all <- krige(log(zinc) ~ 1, meuse, places, model, debug.level = 0)
for (i in seq_len(nrow(coordinates(places)))) {
  put(sprintf("place %d east", i), coordinates(places)[i, 1])
  put(sprintf("place %d north", i), coordinates(places)[i, 2])
  put(sprintf("place %d by 24", i), near$var1.pred[i])
  put(sprintf("place %d by 24 variance", i), near$var1.var[i])
  put(sprintf("place %d by all", i), all$var1.pred[i])
  put(sprintf("place %d by all variance", i), all$var1.var[i])
}

head <- sprintf("# %s; gstat %s, sp %s. Made by tools/oracles/ground.R", R.version.string,
                packageVersion("gstat"), packageVersion("sp"))
writeLines(c(head, "name,value", unlist(rows)), "tests/oracles/ground.csv")
