# Where the sun stands and when it rises and sets, by NOAA's formulas as R's maptools has them: other
# formulas than ours, good to about 0.01 degrees and half a minute between 72 degrees of latitude.
# Run from the root of the project: Rscript tools/oracles/sun.R
suppressWarnings(suppressMessages(library(maptools)))
set.seed(34302)

rows <- list()
put <- function(number, name, value) {
  rows[[length(rows) + 1]] <<- sprintf("%d %s,%.12g", number, name, value)
}
origin <- as.POSIXct("2000-01-01 00:00:00", tz = "UTC")
for (i in 0:149) {
  place <- matrix(c(runif(1, -179, 179), runif(1, -60, 60)), nrow = 1)
  at <- origin + round(runif(1, 0, 50 * 365.25)) * 86400 + round(runif(1, 0, 86399))
  seen <- solarpos(place, at)
  put(i, "longitude", place[1]); put(i, "latitude", place[2])
  put(i, "at", as.numeric(at))
  put(i, "azimuth", seen[1]); put(i, "elevation", seen[2])
}
# Rise and set on the days of a place on the prime meridian, so that a day is one of UTC.
for (i in 0:59) {
  place <- matrix(c(0, runif(1, -60, 60)), nrow = 1)
  day <- origin + round(runif(1, 0, 50 * 365.25)) * 86400
  rise <- sunriset(place, day, direction = "sunrise", POSIXct.out = TRUE)$time
  set <- sunriset(place, day, direction = "sunset", POSIXct.out = TRUE)$time
  put(i, "day", as.numeric(day)); put(i, "day latitude", place[2])
  put(i, "rise", as.numeric(rise)); put(i, "set", as.numeric(set))
}
head <- sprintf("# Written by tools/oracles/sun.R: %s, maptools %s. Degrees, azimuth from north through east; seconds since 1970 UTC.",
  R.version.string, packageVersion("maptools"))
writeLines(c(head, unlist(rows)), "tests/oracles/sun.csv")
