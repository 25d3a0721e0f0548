# Files of maps as GDAL writes them, for the tests of our readers: a shapefile with holes and two polygons in one
# shape, and grids of heights in strips and tiles. GDAL's own versions are in tests/oracles/maps/made_by.txt.
suppressMessages(library(sf))
folder <- "tests/oracles/maps"
unlink(folder, recursive = TRUE)
dir.create(folder)
at <- function(name) file.path(folder, name)
versions <- sf_extSoftVersion()
writeLines(sprintf("GDAL %s, PROJ %s, sf %s", versions["GDAL"], versions["PROJ"], packageVersion("sf")), at("made_by.txt"))

ring <- function(west, south, width, height) {
  rbind(c(west, south), c(west + width, south), c(west + width, south + height), c(west, south + height), c(west, south))
}
hole <- function(...) ring(...)[5:1, ]
west <- 500000
south <- 5884000
# The second has a pond with an island, which is a polygon of its own.
fields <- st_sf(
  name = c("Long Acre", "R\u00fcbenfeld"), soil = c("clay", NA), rows = c(6L, 12L),
  geometry = st_sfc(
    st_polygon(list(ring(west, south, 400, 300), hole(west + 100, south + 100, 50, 60))),
    st_multipolygon(list(
      list(ring(west + 600, south, 200, 200), hole(west + 620, south + 20, 160, 160)),
      list(ring(west + 650, south + 50, 100, 100)))),
    crs = 25832))
st_write(fields, at("fields.shp"), layer_options = "ENCODING=UTF-8", quiet = TRUE)
unlink(at("fields.shx")) # an index, which our reader does not need
# The day on which it was written stands in the table's head.
table <- readBin(at("fields.dbf"), "raw", file.size(at("fields.dbf")))
table[2:4] <- as.raw(c(131, 1, 1))
writeBin(table, at("fields.dbf"))

# 20 columns and 18 rows of heights that name their place, in tenths of a metre; one is not known.
grid <- tempfile(fileext = ".asc")
heights <- outer(0:17, 0:19, function(row, column) 10 + row + column / 10)
heights[3, 5] <- -9999
write_grid <- function(head, cells) {
  writeLines(c(head, "nodata_value -9999", apply(cells, 1, paste, collapse = " ")), grid)
}
translate <- function(to, ...) {
  gdal_utils("translate", grid, at(to), options = c(...), quiet = TRUE)
  unlink(at(paste0(to, ".aux.xml")))
}
write_grid(c("ncols 20", "nrows 18", "xllcorner 500000", "yllcorner 5884000", "cellsize 2"), heights)
translate("zone_strips.tif", "-a_srs", "EPSG:25832", "-ot", "Float32", "-co", "COMPRESS=LZW")
translate("zone_tiles.tif", "-a_srs", "EPSG:25832", "-ot", "Float32", "-co", "TILED=YES", "-co", "BLOCKXSIZE=16",
  "-co", "BLOCKYSIZE=16", "-co", "COMPRESS=DEFLATE", "-co", "PREDICTOR=3")
write_grid(c("ncols 20", "nrows 18", "xllcorner 8.2", "yllcorner 53.1", "cellsize 0.0001"), round(heights))
translate("degrees_points.tif", "-a_srs", "EPSG:4326", "-ot", "Int16", "-mo", "AREA_OR_POINT=Point", "-co", "BIGTIFF=YES")
