#include "maps/ascii_grid.hpp"

#include <gtest/gtest.h>

#include "maps/map_checks.hpp"

namespace beetwright::maps {
namespace {

Result<ground::Heights> read(const std::string& text, const MapFacts& facts = {}) {
    return read_ascii_grid(text, "dem.asc", facts);
}

TEST(AsciiGrid, CornersAndMiddlesOfCells) {
    for (const std::string& place : {std::string("xllcorner 8.2\nyllcorner 53.1\n"),
                                     std::string("XLLCENTER 8.2005\nYLLCENTER 53.1005\n")}) {
        const auto heights = read("NCOLS 3\nnrows 2\n" + place +
                                  "cellsize 0.001\nNODATA_value -1\n1 2 3\r\n4 -1 +6.5\r\n");
        ASSERT_TRUE(heights) << heights.problems().front().text();
        ASSERT_EQ(heights->points.size(), 5U);
        const auto& first = heights->points[0];
        EXPECT_NEAR(first.position.latitude_deg, 53.1015, 1e-9) << "rows begin in the north";
        EXPECT_NEAR(first.position.longitude_deg, 8.2005, 1e-9);
        EXPECT_DOUBLE_EQ(first.height_m, 1.0);
        const auto& last = heights->points[4];
        EXPECT_NEAR(last.position.latitude_deg, 53.1005, 1e-9);
        EXPECT_NEAR(last.position.longitude_deg, 8.2025, 1e-9);
        EXPECT_DOUBLE_EQ(last.height_m, 6.5);
        // A step to the north is the longer one (geod_inverse).
        EXPECT_NEAR(heights->spacing_m, geodesic_m({53.1, 8.2}, {53.101, 8.2}), 0.01);
        EXPECT_EQ(heights->heights_over, ground::HeightOver::unknown);
        expect_note(heights->notes, "supposed to be in degrees of WGS 84");
        expect_note(heights->notes, "1 cell without a height");
    }
}

TEST(AsciiGrid, InAZoneAndInFeet) {
    const std::string text =
        "ncols 2\nnrows 2\nxllcorner 499999\nyllcorner 5884000\ncellsize 2\n100 101 102 -9999\n";
    const auto heights = read(
        text,
        {.crs = "EPSG:25832", .height_unit = "ft", .heights_over = ground::HeightOver::sea_level});
    ASSERT_TRUE(heights) << heights.problems().front().text();
    ASSERT_EQ(heights->points.size(), 3U)
        << "-9999 is what is not known where nothing else is said";
    EXPECT_NEAR(heights->points[0].position.longitude_deg, 9.0, 1e-8);
    EXPECT_NEAR(heights->points[0].height_m, 30.48, 1e-12);
    // The zone's scale on its middle meridian is 0.9996.
    EXPECT_NEAR(heights->spacing_m, 2.0 / 0.9996, 1e-4);
    EXPECT_NEAR(geodesic_m(heights->points[0].position, heights->points[1].position), 2.0 / 0.9996,
                1e-6);
    EXPECT_EQ(heights->heights_over, ground::HeightOver::sea_level);
    expect_note(heights->notes, "UTM zone 32N");
    expect_problem(read(text), "nothing says of which coordinate system");
    expect_problem(read(text, {.crs = "EPSG:1"}), "'EPSG:1' is no coordinate system");
    expect_problem(read(text, {.crs = "EPSG:25832", .height_unit = "kg"}), "'kg' is not a unit");
}

TEST(AsciiGrid, FaultsAreToldByLine) {
    const std::string head = "ncols 2\nnrows 2\nxllcorner 8\nyllcorner 53\ncellsize 0.001\n";
    expect_problem(read(head + "1 2\n3\n"), "ends after 3 of 4 values", 8);
    expect_problem(read(head + "1 2\n3 4\n5\n"), "more values than the 4", 8);
    expect_problem(read(head + "1 2\n3,5 4\n"), "'3,5' is no number", 7);
    expect_problem(read(head + "-9999 -9999 -9999 -9999\n"), "no cell of the grid has a height");
    expect_problem(read(head + "1 2 3 99999\n"), "row 2, column 2: 99999 m is no height");
    expect_problem(read(head + "1 2 3 1e308"), "is no height of the ground");
    expect_problem(read("ncols 2\nnrows 2\ncellsize 1\n1 1 1 1\n"), "where the grid is");
    expect_problem(read("ncols 2\nnrows x\n"), "nrows: 'x' is no number", 2);
    expect_problem(read("ncols 2\nncols 2\n"), "ncols: this stands twice", 2);
    expect_problem(read("ncols 2\nsize 2\n"), "size: this word is not known", 2);
    expect_problem(read("ncols 1.5\n"), "ncols: this is no number of columns");
    expect_problem(read("ncols 9000000\n"), "ncols: this is no number of columns");
    expect_problem(read("ncols 50000\nnrows 50000\nxllcorner 8\nyllcorner 53\ncellsize 1\n"),
                   "more than 5000000 cells");
    expect_problem(read("ncols 2\nnrows 2\nxllcorner 8\nyllcorner 53\ncellsize 0\n"),
                   "cellsize: the head does not say");
    expect_problem(
        read("ncols 1\nnrows 1\nxllcorner 1e30\nyllcorner 0\ncellsize 1\n1", {.crs = "EPSG:25832"}),
        "is nowhere in");
    EXPECT_TRUE(looks_like_ascii_grid("\n NCOLS 2"));
    EXPECT_FALSE(looks_like_ascii_grid("at,latitude"));
}

}  // namespace
}  // namespace beetwright::maps
