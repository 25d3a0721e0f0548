#include "maps/map_file.hpp"

#include <gtest/gtest.h>

#include "maps/files.hpp"
#include "maps/map_checks.hpp"

namespace beetwright::maps {
namespace {

const std::string kGeoJson =
    "\xEF\xBB\xBF \n"
    R"({"type":"Polygon","coordinates":[[[8.20,53.10],[8.21,53.10],[8.21,53.11]]]})";
const std::string kNmea =
    "a log\n$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A\n";
const std::string kTable =
    "# log\n\nat;\"Longitude [°]\";latitude [°]\n2031-10-04T07:30:00Z;8,2001;53,1\n";
const std::string kGrid = "ncols 1\nnrows 1\nxllcorner 499999\nyllcorner 5884000\ncellsize 2\n12\n";

TEST(MapFile, KindsAreSeenByWhatStandsInThem) {
    const auto strips = made_elsewhere("zone_strips.tif");
    const auto shp = made_elsewhere("fields.shp");
    EXPECT_EQ(kind_of({"x", kGeoJson}), MapKind::geojson);
    EXPECT_EQ(kind_of({"x", kNmea}), MapKind::nmea);
    EXPECT_EQ(kind_of({"x", kTable}), MapKind::point_table);
    EXPECT_EQ(kind_of({"x", kGrid}), MapKind::ascii_grid);
    EXPECT_EQ(kind_of({"x.txt", strips}), MapKind::geotiff);
    EXPECT_EQ(kind_of({"x.bin", shp}), MapKind::shapefile);
    EXPECT_EQ(kind_of({"x.geojson", "at,temperature\n"}), MapKind::unknown);
    EXPECT_EQ(kind_of({"x", "###"}), MapKind::unknown);
    EXPECT_EQ(kind_of({"x", ""}), MapKind::unknown);
}

template <class Reading>
const Reading* read(std::vector<MapFile> files, const MapFacts& facts = {}) {
    static Result<MapReading> reading = MapReading(AreasReading{});
    reading = read_map_file(files, facts);
    EXPECT_TRUE(reading) << (reading ? "" : reading.problems().front().text());
    const auto* held = reading ? std::get_if<Reading>(&*reading) : nullptr;
    EXPECT_NE(held, nullptr);
    return held;
}

TEST(MapFile, EachIsReadByItsReader) {
    ASSERT_NE(read<AreasReading>({{"f.json", kGeoJson}}), nullptr);
    ASSERT_NE(read<ground::Track>({{"f.log", kNmea}}), nullptr);
    ASSERT_NE(read<ground::Heights>({{"f.tif", made_elsewhere("zone_tiles.tif")}}), nullptr);
    const auto text = kNmea.substr(0, 6) +
                      "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,"
                      "46.9,M,,*47\n";
    const auto* track = read<ground::Track>({{"f", text}}, {.first_day = parse_day("2031-10-04")});
    ASSERT_NE(track, nullptr);
    EXPECT_EQ(to_text(track->fixes[0].at), "2031-10-04T12:35:19.000Z");
}

TEST(MapFile, CompanionsAreTakenAlong) {
    const auto shp = made_elsewhere("fields.shp");
    const auto dbf = made_elsewhere("fields.dbf");
    const auto prj = made_elsewhere("fields.prj");
    const auto cpg = made_elsewhere("fields.cpg");
    const auto* areas = read<AreasReading>({{"d/fields.PRJ", prj},
                                            {"d/fields.dbf", dbf},
                                            {"d/fields.shx", shp},
                                            {"d/fields.shp", shp},
                                            {"d/fields.cpg", cpg},
                                            {"d/fields.shp.xml", "<x/>"}});
    ASSERT_NE(areas, nullptr);
    EXPECT_EQ(areas->areas[0].name, "Long Acre");
    const auto* grid = read<ground::Heights>({{"dem.asc", kGrid}, {"dem.prj", prj}});
    ASSERT_NE(grid, nullptr);
    EXPECT_NEAR(grid->points[0].position.longitude_deg, 9.0, 1e-8);
    // A .prj of another file is not this one's.
    expect_problem(read_map_file(std::vector<MapFile>{{"dem.asc", kGrid}, {"other.prj", prj}}),
                   "nothing says of which coordinate system");
}

TEST(MapFile, WhatIsNoneIsRefused) {
    const auto alone = [](const std::string& bytes) {
        return read_map_file(std::vector<MapFile>{{"f", bytes}});
    };
    expect_problem(alone("name,area\n"), "no file of a map that is read here");
    expect_problem(alone("<?xml version='1.0'?><kml/>"), "XML, such as KML and GPX");
    expect_problem(alone("PK\x03\x04"), "this is an archive");
    expect_problem(alone(""), "the file is empty");
    expect_problem(read_map_file(std::vector<MapFile>{{"a.json", kGeoJson}, {"b.log", kNmea}}),
                   "b.log: this is a second map, beside a.json");
    expect_problem(read_map_file(std::vector<MapFile>{{"a.prj", "x"}}), "no file of a map");
    EXPECT_FALSE(read_map_file({}));
}

}  // namespace
}  // namespace beetwright::maps
