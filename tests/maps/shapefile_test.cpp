#include "maps/shapefile.hpp"

#include <gtest/gtest.h>

#include <bit>
#include <cstdint>

#include "maps/files.hpp"
#include "maps/map_checks.hpp"

namespace beetwright::maps {
namespace {

struct Files {
    std::string shp = made_elsewhere("fields.shp");
    std::string dbf = made_elsewhere("fields.dbf");
    std::string prj = made_elsewhere("fields.prj");
    std::string cpg = made_elsewhere("fields.cpg");
};

Result<AreasReading> read(const Files& files, const MapFacts& facts = {}) {
    return read_shapefile({files.shp, files.dbf, files.prj, files.cpg}, "fields.shp", facts);
}

void put(std::string& bytes, std::size_t at, std::uint32_t number) {
    for (std::size_t k = 0; k < 4; ++k) {
        bytes[at + k] = static_cast<char>(number >> (8 * k));
    }
}

// tools/oracles/maps.R says what GDAL was given.
TEST(Shapefile, OneThatGdalWrote) {
    const auto reading = read({});
    ASSERT_TRUE(reading) << reading.problems().front().text();
    ASSERT_EQ(reading->areas.size(), 2U);
    const auto& acre = reading->areas[0];
    EXPECT_EQ(acre.name, "Long Acre");
    EXPECT_EQ(acre.said.at("soil"), "clay");
    EXPECT_EQ(acre.said.at("rows"), "6");
    ASSERT_EQ(acre.area.size(), 1U);
    EXPECT_EQ(acre.area[0].holes.size(), 1U);
    // On the zone's middle meridian lengths are 0.9996 of those on the ground.
    const double scale = 0.9996 * 0.9996;
    EXPECT_NEAR(geodesic_m2(acre.area), (400.0 * 300.0 - 50.0 * 60.0) / scale, 0.1);
    double west = 180.0;
    for (const auto& corner : acre.area[0].outer) {
        west = std::min(west, corner.longitude_deg);
    }
    EXPECT_NEAR(west, 9.0, 1e-8);
    const auto& second = reading->areas[1];
    EXPECT_EQ(second.name, "Rübenfeld");
    EXPECT_FALSE(second.said.contains("soil"));
    ASSERT_EQ(second.area.size(), 2U) << "the island in the pond is a polygon";
    EXPECT_EQ(second.area[0].holes.size() + second.area[1].holes.size(), 1U);
    EXPECT_NEAR(geodesic_m2(second.area), (200.0 * 200.0 - 160.0 * 160.0 + 100.0 * 100.0) / scale,
                0.1);
    expect_note(reading->notes, "UTM zone 32N to WGS 84 to within 1 m");
    expect_note(reading->notes, "turned round: outer rings run counter-clockwise");
}

TEST(Shapefile, WithoutItsCompanions) {
    Files files;
    files.dbf.clear();
    const auto bare = read(files);
    ASSERT_TRUE(bare) << bare.problems().front().text();
    EXPECT_TRUE(bare->areas[0].name.empty() && bare->areas[0].said.empty());
    files.prj.clear();
    expect_problem(read(files), "record 1: corner 1 of the outer ring is at latitude 5");
    expect_problem(read(files), "metres of a map");
    EXPECT_TRUE(read(files, {.crs = "EPSG:25832"}));
    // The wrong zone moves a field by six degrees, which nobody can see from its numbers; a system
    // of degrees is found out.
    expect_problem(read(files, {.crs = "EPSG:4326"}), "record 1: a corner is nowhere in WGS 84");
}

/// A .shp file in degrees with one record of these rings: pairs of longitude and latitude.
std::string shp_of(const std::vector<std::vector<std::pair<double, double>>>& rings,
                   std::uint32_t shape = 5) {
    std::string content(44 + 4 * rings.size(), '\0');
    put(content, 0, shape);
    put(content, 36, static_cast<std::uint32_t>(rings.size()));
    std::uint32_t count = 0;
    std::string points;
    for (std::size_t k = 0; k < rings.size(); ++k) {
        put(content, 44 + 4 * k, count);
        for (const auto& [east, north] : rings[k]) {
            for (const double number : {east, north}) {
                const auto bits = std::bit_cast<std::uint64_t>(number);
                for (unsigned byte = 0; byte < 8; ++byte) {
                    points += static_cast<char>(bits >> (8 * byte));
                }
            }
            ++count;
        }
    }
    put(content, 40, count);
    content += points;
    std::string file(108, '\0');
    file[2] = 0x27;
    file[3] = 0x0A;
    const auto words = content.size() / 2;
    file[106] = static_cast<char>(words >> 8U);
    file[107] = static_cast<char>(words);
    return file + content;
}

const std::vector<std::pair<double, double>> kClockwise{
    {8.20, 53.10}, {8.20, 53.11}, {8.21, 53.11}, {8.21, 53.10}, {8.20, 53.10}};
const std::vector<std::pair<double, double>> kHole{
    {8.202, 53.102}, {8.204, 53.102}, {8.204, 53.104}, {8.202, 53.104}, {8.202, 53.102}};

std::vector<std::pair<double, double>> turned(std::vector<std::pair<double, double>> ring) {
    return {ring.rbegin(), ring.rend()};
}

TEST(Shapefile, InDegreesWhereNothingIsSaid) {
    const auto reading = read_shapefile({.shp = shp_of({kHole, kClockwise})}, "f.shp");
    ASSERT_TRUE(reading) << reading.problems().front().text();
    expect_note(reading->notes, "supposed to be in degrees of WGS 84");
    ASSERT_EQ(reading->areas[0].area.size(), 1U) << "a hole may stand before its ring";
    EXPECT_EQ(reading->areas[0].area[0].holes.size(), 1U);
    // All rings the other way round, as some programs write them.
    const auto other =
        read_shapefile({.shp = shp_of({turned(kClockwise), turned(kHole)})}, "f.shp");
    ASSERT_TRUE(other) << other.problems().front().text();
    EXPECT_EQ(other->areas[0].area[0].holes.size(), 1U);
    const double m2 = geodesic_m2(reading->areas[0].area);
    EXPECT_NEAR(geodesic_m2(other->areas[0].area), m2, 1e-9 * m2);
    // With heights behind the corners, which are not read.
    auto with_heights = shp_of({kClockwise}, 15);
    with_heights += std::string(16 + 5 * 8, '\0');
    with_heights[107] = static_cast<char>((with_heights.size() - 108) / 2);
    EXPECT_TRUE(read_shapefile({.shp = with_heights}, "f.shp"));
}

TEST(Shapefile, RecordsAreNamed) {
    auto away = kHole;
    for (auto& [east, north] : away) {
        east += 1.0;
    }
    expect_problem(read_shapefile({.shp = shp_of({kClockwise, away})}, "f.shp"),
                   "f.shp, record 1: 1 hole with no ring around");
    expect_problem(read_shapefile({.shp = shp_of({kClockwise}, 1)}, "f.shp"),
                   "no area stands in this file, only 1 Point");
    auto crossed = kClockwise;
    std::swap(crossed[1], crossed[2]);
    expect_problem(read_shapefile({.shp = shp_of({crossed})}, "f.shp"),
                   "record 1: the border crosses itself or another of its rings at 53.1050");
    auto moon = kClockwise;
    moon[1].second = std::nan("");
    expect_problem(read_shapefile({.shp = shp_of({moon})}, "f.shp"), "nowhere on earth");
}

TEST(Shapefile, DamageIsToldByRecord) {
    const auto with = [](std::size_t at, std::uint32_t number) {
        Files files;
        put(files.shp, at, number);
        return read(files);
    };
    // The first record's content begins at 108: its rings are counted at 144, its corners at 148,
    // and the rings' beginnings stand from 152 on.
    expect_problem(with(144, 4000), "record 1: this area has more than 1000 rings");
    expect_problem(with(144, 900), "record 1: the record is shorter than its corners");
    expect_problem(with(148, 4000), "record 1: the record is shorter than its corners");
    expect_problem(with(156, 77), "record 1: ring 1 ends before it begins");
    expect_problem(with(152, 7), "record 1: ring 1 ends before it begins");
    expect_problem(with(104, 0x7fffffff), "record 1: the file ends within this record");
    expect_problem(with(104, 0), "record 1: this record is empty");
    expect_problem(with(0, 0), "this is no .shp file");
    Files files;
    files.shp.resize(files.shp.size() - 1);
    expect_problem(read(files), "record 2: the file ends within this record");
    files.shp.resize(99);
    expect_problem(read(files), "this is no .shp file");
    EXPECT_TRUE(looks_like_shapefile(Files().shp));
}

TEST(Shapefile, DamageOfItsTable) {
    const auto with = [](std::size_t at, char byte) {
        Files files;
        files.dbf[at] = byte;
        return read(files);
    };
    expect_problem(with(4, 3), "the table holds 2 of 3 records");
    expect_problem(with(4, 1), "2 shapes stand in the .shp file and 1 record in the .dbf file");
    expect_problem(with(8, 100), "the table's head is cut off");
    expect_problem(with(9, 9), "this is no table of a shapefile");
    expect_problem(with(48, static_cast<char>(0xFF)), "this column ends beyond");
    Files files;
    files.dbf.resize(20);
    expect_problem(read(files), "the table is cut off");
}

TEST(Shapefile, LettersOfItsTable) {
    Files files;
    files.cpg = "1250";
    expect_problem(read(files), "record 2, name: its letters are in '1250'");
    files.cpg = "ANSI 1252\r\n";
    const auto at = files.dbf.find("\xC3\xBC");
    files.dbf.replace(at, 2, "\xFC ");
    const auto reading = read(files);
    ASSERT_TRUE(reading) << reading.problems().front().text();
    EXPECT_EQ(reading->areas[1].name, "Rü benfeld");
}

}  // namespace
}  // namespace beetwright::maps
