#include "maps/geotiff.hpp"

#include <gtest/gtest.h>

#include <cstring>

#include "maps/files.hpp"
#include "maps/map_checks.hpp"

namespace beetwright::maps {
namespace {

Result<ground::Heights> read(const std::string& bytes, const MapFacts& facts = {}) {
    return read_geotiff(bytes, "dem.tif", facts);
}

/// Where a tag's twelve bytes begin in a small TIFF of the usual byte order.
std::size_t entry_of(const std::string& bytes, unsigned tag) {
    const auto number = [&](std::size_t at, std::size_t count) {
        std::size_t value = 0;
        for (std::size_t k = count; k > 0; --k) {
            value = value << 8U | static_cast<unsigned char>(bytes[at + k - 1]);
        }
        return value;
    };
    const auto directory = number(4, 4);
    for (std::size_t k = 0; k < number(directory, 2); ++k) {
        if (number(directory + 2 + 12 * k, 2) == tag) {
            return directory + 2 + 12 * k;
        }
    }
    ADD_FAILURE() << "no tag " << tag;
    return 0;
}

/// The file with another number in the tag.
std::string with_tag(std::string bytes, unsigned tag, unsigned number) {
    const auto at = entry_of(bytes, tag);
    for (std::size_t k = 0; k < 4; ++k) {
        bytes[at + 8 + k] = static_cast<char>(number >> (8 * k));
    }
    return bytes;
}

// tools/oracles/maps.R says what GDAL was given: heights of 10 + row + column / 10, one not known,
// in cells of 2 m whose south-western corner is 500,000 m east of UTM 32's middle meridian.
TEST(GeoTiff, StripsAndTilesThatGdalWrote) {
    for (const char* name : {"zone_strips.tif", "zone_tiles.tif"}) {
        const auto heights = read(made_elsewhere(name));
        ASSERT_TRUE(heights) << name << heights.problems().front().text();
        ASSERT_EQ(heights->points.size(), 20U * 18U - 1U);
        EXPECT_NEAR(heights->points[0].height_m, 10.0, 1e-6);
        EXPECT_NEAR(heights->points[19].height_m, 11.9, 1e-6);
        EXPECT_NEAR(heights->points.back().height_m, 10.0 + 17.0 + 1.9, 1e-6);
        // The middle of the first row, along the middle meridian; a metre east of it.
        EXPECT_NEAR(
            0.9996 * geodesic_m({0.0, 9.0}, {heights->points[0].position.latitude_deg, 9.0}),
            5'884'035.0, 1e-3);
        EXPECT_NEAR(geodesic_m({heights->points[0].position.latitude_deg, 9.0},
                               heights->points[0].position),
                    1.0 / 0.9996, 1e-6);
        EXPECT_NEAR(heights->spacing_m, 2.0 / 0.9996, 1e-4);
        expect_note(heights->notes, "1 cell without a height");
        expect_note(heights->notes, "UTM zone 32N");
    }
}

TEST(GeoTiff, PointsInDegreesThatGdalWrote) {
    const auto heights = read(made_elsewhere("degrees_points.tif"), {.height_unit = "ft"});
    ASSERT_TRUE(heights) << heights.problems().front().text();
    ASSERT_EQ(heights->points.size(), 20U * 18U - 1U);
    // The middle of the cell in the north-west, though the file ties a point and not a corner.
    EXPECT_NEAR(heights->points[0].position.latitude_deg, 53.1 + 17.5e-4, 1e-9);
    EXPECT_NEAR(heights->points[0].position.longitude_deg, 8.2 + 0.5e-4, 1e-9);
    EXPECT_NEAR(heights->points[0].height_m, 3.048, 1e-9);
    EXPECT_EQ(heights->heights_over, ground::HeightOver::unknown);
}

TEST(GeoTiff, WhatIsNotRead) {
    const auto strips = made_elsewhere("zone_strips.tif");
    ASSERT_TRUE(looks_like_tiff(strips));
    expect_problem(read("II*"), "this is no TIFF that can be read");
    expect_problem(read(strips.substr(0, 9)), "this is no TIFF that can be read");
    expect_problem(read(with_tag(with_tag(strips, 256, 60'000), 257, 60'000)),
                   "more than 5000000 cells");
    expect_problem(read(with_tag(strips, 256, 0)), "this is no TIFF that can be read");
    expect_problem(read(with_tag(strips, 277, 3)), "several numbers, as in a photograph");
    expect_problem(read(with_tag(strips, 258, 8)), "of 8 bits are not read");
    expect_problem(read(with_tag(strips, 259, 50001)), "compression, number 50001, is not read");
    // A tag is not there once it is called otherwise.
    const auto without = [&](unsigned tag) {
        auto bytes = strips;
        bytes[entry_of(bytes, tag)] = static_cast<char>(0xFE);
        return read(bytes);
    };
    expect_problem(without(33922), "does not say where it is");
    expect_problem(without(34735), "nothing says of which coordinate system");
    auto cut = with_tag(strips, 273, static_cast<unsigned>(strips.size()) - 4);
    expect_problem(read(cut), "strip 1: this cannot be read");
}

TEST(GeoTiff, SystemsOfItsOwn) {
    auto bytes = made_elsewhere("zone_strips.tif");
    const std::string code{static_cast<char>(25832 % 256), static_cast<char>(25832 / 256)};
    const auto at = bytes.find(std::string("\x00\x0C\x00\x00\x01\x00", 6) + code);
    ASSERT_NE(at, std::string::npos);
    bytes.replace(at + 6, 2, "\xFF\x7F");
    expect_problem(read(bytes), "crs: its coordinate system is none of EPSG's");
    EXPECT_TRUE(read(bytes, {.crs = "EPSG:25832"}));
    bytes.replace(at + 6, 2, std::string("\x01\x00", 2));
    expect_problem(read(bytes), "'EPSG:1' is no coordinate system");
}

}  // namespace
}  // namespace beetwright::maps
