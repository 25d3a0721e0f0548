#include "maps/geojson.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "io/json_read.hpp"
#include "maps/antimeridian.hpp"
#include "maps/map_checks.hpp"

namespace beetwright::maps {
namespace {

/// A square of 0.01 degrees as GeoJSON writes rings, counter-clockwise and closed.
const std::string kSquare = "[[8.20,53.10],[8.21,53.10],[8.21,53.11],[8.20,53.11],[8.20,53.10]]";
const std::string kHole =
    "[[8.203,53.103],[8.203,53.106],[8.206,53.106],[8.206,53.103],[8.203,53.103]]";

std::string polygon(const std::string& rings) {
    return R"({"type":"Polygon","coordinates":[)" + rings + "]}";
}

std::string feature(const std::string& geometry, const std::string& properties = "null") {
    return R"({"type":"Feature","properties":)" + properties + R"(,"geometry":)" + geometry + "}";
}

std::string collection(const std::string& features, const std::string& more = "") {
    return R"({"type":"FeatureCollection",)" + more + R"("features":[)" + features + "]}";
}

Result<AreasReading> read(const std::string& text) {
    return read_geojson(text, "f.geojson");
}

TEST(GeoJson, AllItsShapesOfAreas) {
    const auto square = polygon(kSquare);
    const std::string two = R"({"type":"MultiPolygon","coordinates":[[)" + kSquare +
                            "],[[[8.3,53.1],[8.31,53.1],[8.31,53.11],[8.3,53.1]]]]}";
    for (const auto& text : {square, feature(square), collection(feature(square))}) {
        const auto reading = read(text);
        ASSERT_TRUE(reading) << reading.problems().front().text();
        ASSERT_EQ(reading->areas.size(), 1U);
        const ground::Ring expected{{53.10, 8.20}, {53.10, 8.21}, {53.11, 8.21}, {53.11, 8.20}};
        EXPECT_EQ(reading->areas[0].area, (ground::Area{{expected}}));
        EXPECT_TRUE(reading->notes.empty());
    }
    for (const auto& text :
         {two, feature(two), R"({"type":"GeometryCollection","geometries":[)" + two + "]}"}) {
        const auto reading = read(text);
        ASSERT_TRUE(reading) << reading.problems().front().text();
        EXPECT_EQ(reading->areas[0].area.size(), 2U);
    }
}

TEST(GeoJson, NamesAndWhatElseIsSaid) {
    const auto reading = read(collection(
        feature(polygon(kSquare), R"({"Name":"Long Acre","beets":true,"soil":null,"rows":6})")));
    ASSERT_TRUE(reading);
    EXPECT_EQ(reading->areas[0].name, "Long Acre");
    EXPECT_EQ(reading->areas[0].said.at("beets"), "true");
    EXPECT_EQ(reading->areas[0].said.at("rows"), "6");
    EXPECT_FALSE(reading->areas[0].said.contains("soil"));
}

TEST(GeoJson, RingsAreTurnedAndHolesKept) {
    const std::string clockwise = "[[8.20,53.10],[8.20,53.11],[8.21,53.11],[8.21,53.10]]";
    const auto reading = read(polygon(clockwise + "," + kHole));
    ASSERT_TRUE(reading) << reading.problems().front().text();
    const auto& only = reading->areas[0].area[0];
    EXPECT_EQ(only.outer.size(), 4U) << "a ring need not be closed to be understood";
    EXPECT_GT(geodesic_m2(only.outer), 0.0);
    ASSERT_EQ(only.holes.size(), 1U);
    EXPECT_LT(geodesic_m2(only.holes[0]), 0.0);
    expect_note(reading->notes, "1 ring turned round");
}

TEST(GeoJson, PointsAndLinesArePassedOver) {
    const auto reading = read(collection(feature(polygon(kSquare)) + "," +
                                         feature(R"({"type":"Point","coordinates":[8.2,53.1]})") +
                                         "," + feature("null")));
    ASSERT_TRUE(reading);
    EXPECT_EQ(reading->areas.size(), 1U);
    expect_note(reading->notes, "1 Point passed over");
    expect_note(reading->notes, "1 Feature without geometry passed over");
    expect_problem(read(feature(R"({"type":"Point","coordinates":[8.2,53.1]})")),
                   "no area stands in this file, only 1 Point");
}

TEST(GeoJson, SwappedDegreesAreNamedWhereThatIsSure) {
    // In the Pacific north-west: latitude first makes a latitude of -122.
    expect_problem(read(polygon("[[46.1,-122.3],[46.1,-122.2],[46.2,-122.2]]")),
                   "probably swapped: write the longitude first");
    expect_problem(read(polygon("[[446000,5884000],[447000,5884000],[446000,5885000]]")),
                   "metres of a map");
}

TEST(GeoJson, OtherCoordinateSystemsAreRefused) {
    const auto with = [](const std::string& name) {
        return read(collection(feature(polygon(kSquare)),
                               R"("crs":{"type":"name","properties":{"name":")" + name + "\"}},"));
    };
    EXPECT_TRUE(with("urn:ogc:def:crs:OGC:1.3:CRS84"));
    EXPECT_TRUE(with("EPSG:4326"));
    expect_problem(with("urn:ogc:def:crs:EPSG::25832"), "another coordinate system, urn:ogc");
    expect_problem(read(collection("", R"("crs":{"type":"link"},)")), "another coordinate");
    EXPECT_TRUE(read(collection(feature(polygon(kSquare)), R"("crs":null,)")));
    const std::string other = R"({"crs":{"properties":{"name":"EPSG:3857"}},)";
    expect_problem(read(collection(feature(other + polygon(kSquare).substr(1)))),
                   "features[0].geometry.crs: the file is in another coordinate system");
    expect_problem(read(collection(other + feature(polygon(kSquare)).substr(1))),
                   "features[0].crs: the file is in another coordinate system");
}

/// A ring of so many corners around a circle of some 300 m.
std::string circle(int corners) {
    std::string ring;
    for (int k = 0; k < corners; ++k) {
        const double angle = 2.0 * std::numbers::pi * k / corners;
        ring += (k == 0 ? "[[" : ",[") + std::to_string(8.2 + 0.004 * std::cos(angle)) + "," +
                std::to_string(53.1 + 0.003 * std::sin(angle)) + "]";
    }
    return ring + "]";
}

TEST(GeoJson, NotMoreCornersThanAnybodyWalks) {
    EXPECT_TRUE(read(polygon(circle(1000))));
    const auto one = read(polygon(circle(50'001)));
    expect_problem(one, "this area has more than 50000 corners");
    EXPECT_EQ(one.problems().front().kind, ProblemKind::limit);
}

TEST(GeoJson, FaultsAreNamedByTheirPath) {
    expect_problem(read("{"), "this is not JSON", 1);
    expect_problem(read("[1]"), "GeoJSON is one object");
    expect_problem(read("{}"), "type: this object does not say what it is");
    expect_problem(read(R"({"type":"Topology"})"), "type: 'Topology' is not known here");
    expect_problem(read(R"({"type":"FeatureCollection"})"), "features: this member is missing");
    expect_problem(read(collection("7")), "features[0]: this is not an object");
    expect_problem(read(collection(polygon(kSquare))),
                   "features[0].type: 'Polygon' is not a Feature");
    expect_problem(read(collection(feature("7"))), "features[0].geometry: this is not an object");
    expect_problem(read(polygon("7")), "coordinates[0]: this is not a list");
    expect_problem(read(polygon(R"([[8.2,53.1],[8.2],[8.3,53.2]])")),
                   "coordinates[0][1]: this is not a position");
    expect_problem(read(polygon(R"([[8.2,"53.1"]])")), "coordinates[0][0]: this is not a position");
    expect_problem(
        read(collection(feature(polygon(kSquare)) + "," +
                        feature(polygon("[[8.20,53.10],[8.21,53.11],[8.21,53.10],[8.20,53.11]]")))),
        "features[1].geometry: the border crosses itself or another of its rings at 53.105");
}

// RFC 7946, 3.1.9 [V]: an area across the antimeridian is cut in two there.
TEST(GeoJson, CutOrWholeAcrossTheAntimeridian) {
    const auto cut = read(
        R"({"type":"MultiPolygon","coordinates":[
            [[[179.995,-17.0],[180.0,-17.0],[180.0,-16.99],[179.995,-16.99],[179.995,-17.0]]],
            [[[-180.0,-17.0],[-179.995,-17.0],[-179.995,-16.99],[-180.0,-16.99],[-180.0,-17.0]]]]})");
    ASSERT_TRUE(cut) << cut.problems().front().text();
    EXPECT_EQ(cut->areas[0].area.size(), 2U) << "read as it is";
    const auto whole = read(polygon(
        "[[179.995,-17.0],[-179.995,-17.0],[-179.995,-16.99],[179.995,-16.99],[179.995,-17.0]]"));
    ASSERT_TRUE(whole) << whole.problems().front().text();
    EXPECT_TRUE(whole->notes.empty()) << "it runs counter-clockwise across the antimeridian";
    ASSERT_EQ(whole->areas[0].area.size(), 1U);
    const double m2 = geodesic_m2(whole->areas[0].area);
    EXPECT_NEAR(geodesic_m2(cut->areas[0].area), m2, 1e-6 * m2);
    // And cut when it is written, with what lies on either side.
    const auto again = read(write_geojson(whole->areas));
    ASSERT_TRUE(again) << again.problems().front().text();
    ASSERT_EQ(again->areas[0].area.size(), 2U);
    EXPECT_NEAR(geodesic_m2(again->areas[0].area), m2, 1e-6 * m2);
    for (const auto& part : again->areas[0].area) {
        for (const auto& corner : part.outer) {
            EXPECT_GT(corner.longitude_deg * part.outer[0].longitude_deg, 0.0);
        }
    }
}

TEST(GeoJson, AHoleOnTheAntimeridianIsCutWithItsField) {
    auto outer = field_ring(-17.0, 180.0);
    ground::Ring hole{
        {-17.001, 179.999}, {-16.999, 179.999}, {-16.999, -179.999}, {-17.001, -179.999}};
    const ground::Area area{{outer, {hole}}};
    const auto cut = cut_at_antimeridian(area);
    ASSERT_EQ(cut.size(), 2U);
    EXPECT_TRUE(cut[0].holes.empty()) << "it has become a bay of each side";
    EXPECT_NEAR(geodesic_m2(cut), geodesic_m2(area), 1e-6 * geodesic_m2(area));
    EXPECT_EQ(cut_at_antimeridian({{field_ring()}}), (ground::Area{{field_ring()}}));
}

TEST(GeoJson, WrittenAreasComeBack) {
    const auto before = read(collection(
        feature(polygon(kSquare + "," + kHole), R"({"name":"Long Acre","soil":"clay"})")));
    ASSERT_TRUE(before);
    const auto text = write_geojson(before->areas);
    const auto after = read(text);
    ASSERT_TRUE(after) << after.problems().front().text();
    EXPECT_EQ(after->areas[0].area, before->areas[0].area);
    EXPECT_EQ(after->areas[0].said, before->areas[0].said);
    EXPECT_TRUE(after->notes.empty()) << "rings are written the right way round";
    EXPECT_EQ(text.find("crs"), std::string::npos);
}

TEST(GeoJson, APlanOfZonesComesBack) {
    const auto plan = zone_plan();
    ASSERT_EQ(plan.zones[0].settings.size(), 2U);
    const auto reading = read(write_geojson(plan));
    ASSERT_TRUE(reading) << reading.problems().front().text();
    ASSERT_EQ(reading->areas.size(), 3U);
    EXPECT_EQ(reading->areas[0].name, plan.field);
    EXPECT_EQ(reading->areas[0].said.at("kind"), "field");
    expect_same(reading->areas[0].area, plan.boundary);
    EXPECT_EQ(reading->areas[1].name, "zone 1: knoll");
    EXPECT_EQ(reading->areas[2].name, "zone 2");
    expect_same(reading->areas[2].area, plan.zones[1].area);
    const auto settings = io::parse_json(reading->areas[1].said.at("settings"), "settings");
    ASSERT_TRUE(settings);
    const auto& [control, value, shown] = plan.zones[0].settings[1];
    ASSERT_NE(settings->find(control.id()), nullptr);
    EXPECT_EQ(*settings->find(control.id())->text(), control.text(value));
}

}  // namespace
}  // namespace beetwright::maps
