#include "maps/point_table.hpp"

#include <gtest/gtest.h>

#include "maps/map_checks.hpp"

namespace beetwright::maps {
namespace {

Result<ground::Track> read(const std::string& text, const MapFacts& facts = {}) {
    return read_point_table(text, "log.csv", facts);
}

TEST(PointTable, AllColumns) {
    const auto track = read(
        "# heights: sea level\n"
        "at [dd.mm.yyyy hh:mm +02:00];latitude [°];longitude [°];height [m];quality;satellites;"
        "dilution;speed [km/h];course [°];works;yield [t/ha];(driver)\n"
        "04.10.2031 09:30;53,1000123;8,2000456;12,5;fixed;14;0,7;7,2;359,5;yes;81,5;x\n"
        "04.10.2031 09:31;53,1000124;8,2000457;;;;;;;no;;x\n");
    ASSERT_TRUE(track) << track.problems().front().text();
    ASSERT_EQ(track->fixes.size(), 2U);
    const auto& fix = track->fixes[0];
    EXPECT_EQ(to_text(fix.at), "2031-10-04T07:30:00.000Z");
    EXPECT_EQ(fix.position, (ground::Position{53.1000123, 8.2000456})) << "to the last digit";
    EXPECT_DOUBLE_EQ(fix.height_m, 12.5);
    EXPECT_EQ(fix.kind, ground::FixKind::fixed_phase);
    EXPECT_EQ(fix.satellites, 14);
    EXPECT_DOUBLE_EQ(fix.horizontal_dilution, 0.7);
    EXPECT_NEAR(fix.speed_m_s, 2.0, 1e-12);
    EXPECT_DOUBLE_EQ(fix.course_deg, 359.5);
    EXPECT_TRUE(fix.works);
    EXPECT_NEAR(fix.yield_kg_m2, 8.15, 1e-12);
    EXPECT_EQ(track->heights_over, ground::HeightOver::sea_level);
    const auto& bare = track->fixes[1];
    EXPECT_TRUE(std::isnan(bare.height_m) && std::isnan(bare.yield_kg_m2));
    EXPECT_EQ(bare.satellites, -1);
    EXPECT_EQ(bare.kind, ground::FixKind::unknown);
    EXPECT_FALSE(bare.works);
}

// On a zone's middle meridian, from the equator (geod_inverse, times the zone's scale).
TEST(PointTable, EastAndNorthOfASystem) {
    const double north_m = 0.9996 * geodesic_m({0.0, 9.0}, {53.1, 9.0});
    const std::string rows = "at,east,north,height [ft]\n2031-10-04T07:30:00Z,500000," +
                             std::to_string(north_m) + ",100\n";
    const auto by_line = read("# crs: EPSG:25832\n" + rows);
    const auto by_facts =
        read("# crs: EPSG:1\n" + rows,
             {.crs = "EPSG:25832", .heights_over = ground::HeightOver::ellipsoid});
    for (const auto* track : {&by_line, &by_facts}) {
        ASSERT_TRUE(*track) << track->problems().front().text();
        EXPECT_NEAR((*track)->fixes[0].position.latitude_deg, 53.1, 1e-8);
        EXPECT_NEAR((*track)->fixes[0].position.longitude_deg, 9.0, 1e-8);
        EXPECT_NEAR((*track)->fixes[0].height_m, 30.48, 1e-12);
        expect_note((*track)->notes, "UTM zone 32N");
    }
    EXPECT_EQ(by_facts->heights_over, ground::HeightOver::ellipsoid);
    expect_problem(read(rows), "nothing says of which coordinate system", 2);
    expect_problem(read("# crs: EPSG:1\n" + rows), "'EPSG:1' is no coordinate system", 1);
}

TEST(PointTable, RowsWithoutAPositionArePassedOver) {
    const auto track = read(
        "at,latitude [°],longitude [°],quality\n"
        "2031-10-04T07:30:00Z,53.1,8.2,float\n"
        "2031-10-04T07:30:01Z,0,0,\n"
        "2031-10-04T07:30:02Z,,,\n"
        "2031-10-04T07:30:03Z,53.1,8.2,none\n");
    ASSERT_TRUE(track) << track.problems().front().text();
    EXPECT_EQ(track->fixes.size(), 1U);
    expect_note(track->notes, "3 rows without a position passed over");
}

TEST(PointTable, FaultsAreToldByLineAndField) {
    const std::string head = "at,latitude [°],longitude [°],quality,east,north\n";
    const std::string when = "2031-10-04T07:30:00Z";
    expect_problem(read(head + when + ",97,8.2,,,\n"), "latitude: 97 ° is not possible here", 2);
    expect_problem(read(head + when + ",53.1,,,,\n"), "longitude: half of the position", 2);
    expect_problem(read(head + when + ",,,,1,\n"), "north: half of the position", 2);
    expect_problem(read(head + when + ",53.1,8.2,,1,2\n"), "where it is twice", 2);
    expect_problem(read(head + when + ",53.1,8.2,rtk,,\n"), "quality: 'rtk' is not one of", 2);
    expect_problem(read(head + "yesterday,53.1,8.2,,,\n"), "at: ", 2);
    expect_problem(read("latitude [°],longitude [°]\n53.1,8.2\n"), "at: this column is missing", 1);
    expect_problem(read("at,lattitude [°]\n"), "did you mean \"latitude\"", 1);
    expect_problem(read("at,latitude\n"), "the header does not say the unit", 1);
    expect_problem(read(head), "no row has a position");
    expect_problem(read("# heights: floor\n" + head + when + ",53.1,8.2,,,\n"),
                   "heights: 'floor' is not what", 1);
    expect_problem(read("# crs: EPSG:25832\n" + head + when + ",,,,1e8,1e8\n"), "nowhere in", 3);
}

}  // namespace
}  // namespace beetwright::maps
