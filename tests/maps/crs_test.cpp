#include "maps/crs.hpp"

#include <gtest/gtest.h>

#include "maps/map_checks.hpp"

namespace beetwright::maps {
namespace {

const Where kWhere{.file = "f.prj", .line = 0, .field = "crs"};

// As a .prj file has it.
const std::string kUtm32 =
    R"(PROJCS["ETRS_1989_UTM_Zone_32N",GEOGCS["GCS_ETRS_1989",DATUM["D_ETRS_1989",)"
    R"(SPHEROID["GRS_1980",6378137.0,298.257222101]],PRIMEM["Greenwich",0.0],)"
    R"(UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],)"
    R"(PARAMETER["False_Easting",500000.0],PARAMETER["False_Northing",0.0],)"
    R"(PARAMETER["Central_Meridian",9.0],PARAMETER["Scale_Factor",0.9996],)"
    R"(PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]])";

void expect_refused(std::string_view text, const std::string& words) {
    expect_problem(Crs::from_text(text, kWhere), words);
}

// EPSG Guidance Note 7-2, example of the Popular Visualisation Pseudo-Mercator [VC].
TEST(Crs, APublishedExample) {
    const auto crs = Crs::from_text("EPSG:3857", kWhere);
    ASSERT_TRUE(crs) << crs.problems().front().text();
    EXPECT_FALSE(crs->is_geographic());
    const auto at = crs->position(-11169055.58, 2800000.00);
    ASSERT_TRUE(at);
    EXPECT_NEAR(at->latitude_deg, 24.0 + 22.0 / 60.0 + 54.433 / 3600.0, 2e-7);
    EXPECT_NEAR(at->longitude_deg, -(100.0 + 20.0 / 60.0), 2e-7);
}

// On its middle meridian a zone's northing is 0.9996 of the way from the equator, which
// geod_inverse knows by itself; its easting is 500 km.
TEST(Crs, ZonesByCodeAndByText) {
    for (const auto& text : {std::string("EPSG:25832"), std::string(" epsg:25832\r\n"), kUtm32}) {
        const auto crs = Crs::from_text(text, kWhere);
        ASSERT_TRUE(crs) << crs.problems().front().text();
        EXPECT_DOUBLE_EQ(crs->units_to_si(), 1.0);
        const double north_m = 0.9996 * geodesic_m({0.0, 9.0}, {53.1, 9.0});
        const auto at = crs->position(500'000.0, north_m);
        ASSERT_TRUE(at);
        EXPECT_NEAR(at->latitude_deg, 53.1, 1e-8);
        EXPECT_NEAR(at->longitude_deg, 9.0, 1e-8);
        EXPECT_NE(crs->note().find("positions were brought from ETRS"), std::string::npos);
        EXPECT_NE(crs->note().find("to within 1 m"), std::string::npos) << crs->note();
    }
}

TEST(Crs, DegreesWithEastFirst) {
    for (const char* text : {"EPSG:4326", "EPSG:4258"}) {
        const auto crs = Crs::from_text(text, kWhere);
        ASSERT_TRUE(crs);
        EXPECT_TRUE(crs->is_geographic());
        const auto at = crs->position(8.2, 53.1);
        ASSERT_TRUE(at);
        EXPECT_NEAR(at->latitude_deg, 53.1, 1e-12);
        EXPECT_NEAR(at->longitude_deg, 8.2, 1e-12);
    }
    const auto crs = Crs::wgs84(kWhere);
    ASSERT_TRUE(crs);
    ASSERT_TRUE(crs->position(8.2, 53.1));
    EXPECT_EQ(crs->note(), "") << "nothing was supposed";
    EXPECT_FALSE(crs->position(8.2, 91.0));
    EXPECT_FALSE(crs->position(std::nan(""), 53.1));
}

TEST(Crs, FeetAndHeightsBeside) {
    const auto feet = Crs::from_text("EPSG:2227", kWhere);  // US survey feet
    ASSERT_TRUE(feet) << feet.problems().front().text();
    EXPECT_NEAR(feet->units_to_si(), 1200.0 / 3937.0, 1e-12);
    const auto with_heights = Crs::from_text("EPSG:5555", kWhere);  // UTM 32 and heights
    ASSERT_TRUE(with_heights) << with_heights.problems().front().text();
    ASSERT_TRUE(with_heights->position(500'000.0, 5'884'000.0));
    EXPECT_NEAR(with_heights->position(500'000.0, 5'884'000.0)->longitude_deg, 9.0, 1e-8);
}

TEST(Crs, WhatIsNoneIsRefused) {
    expect_refused("", "is no coordinate system that is known");
    expect_refused("EPSG:25832x", "is no coordinate system that is known");
    expect_refused("EPSG:1", "'EPSG:1' is no coordinate system");
    expect_refused("+proj=utm +zone=32", "is no coordinate system");
    expect_refused("EPSG:5773", "does not say where on the ground");  // heights over a geoid
    expect_refused("EPSG:4978", "does not say where on the ground");  // from the earth's middle
    expect_refused("EPSG:2053", "does not count to the east and to the north");
    auto moon = kUtm32;
    moon.replace(moon.find("6378137.0"), 9, "1737400.0");
    expect_refused(moon, "is not on earth");
    auto unknown = kUtm32;
    unknown.replace(unknown.find("Transverse_Mercator"), 19, "Upside_Down_Mercator");
    expect_refused(unknown, "is of a projection that is not known");
    expect_refused(std::string(60'000, 'A'), "no text of a coordinate system");
}

TEST(Crs, NoFilesAreReadThatATextNames) {
    auto text = kUtm32;
    text.insert(text.size() - 1, R"(,EXTENSION["PROJ4","+proj=longlat +nadgrids=/etc/hosts"])");
    expect_refused(text, "names files");
    expect_refused(R"(GEOGCS["a",PARAMETERFILE["b","c"]])", "names files");
}

}  // namespace
}  // namespace beetwright::maps
