#include "maps/validity.hpp"

#include <gtest/gtest.h>

#include "ground/local_plane.hpp"
#include "ground/plane_area.hpp"
#include "maps/flat.hpp"
#include "maps/map_checks.hpp"
#include "maps/plane_polygons.hpp"

namespace beetwright::maps {
namespace {

using ground::Area;
using ground::Ring;

std::string told_of(const Area& area, NumberOrder order = NumberOrder::latitude_first) {
    io::ProblemList problems;
    const bool is_in_order =
        look_through(area, {.file = "f", .line = 7, .field = "border"}, order, problems);
    EXPECT_EQ(is_in_order, problems.empty());
    std::string text;
    for (const auto& problem : std::move(problems).take()) {
        EXPECT_EQ(problem.where.line, 7);
        text += problem.text() + "\n";
    }
    return text;
}

void expect_told(const Area& area, const std::string& words,
                 NumberOrder order = NumberOrder::latitude_first) {
    const auto told = told_of(area, order);
    EXPECT_NE(told.find(words), std::string::npos) << "of " << words << " it is told: " << told;
}

/// A ring about the middle of field_ring(), so many times smaller.
Ring smaller(double times, double latitude_deg = 53.1, double longitude_deg = 8.2) {
    auto ring = field_ring(latitude_deg, longitude_deg);
    for (auto& corner : ring) {
        corner.latitude_deg = latitude_deg + (corner.latitude_deg - latitude_deg) / times;
        corner.longitude_deg = longitude_deg + (corner.longitude_deg - longitude_deg) / times;
    }
    return ring;
}

TEST(Validity, FieldsAreInOrder) {
    EXPECT_EQ(told_of({{field_ring()}}), "");
    EXPECT_EQ(told_of({{field_ring(), {smaller(4.0)}}}), "");
    EXPECT_EQ(told_of({{field_ring()}, {field_ring(53.2)}}), "");
    EXPECT_EQ(told_of({{field_ring(-17.0, 180.0)}}), "") << "the antimeridian is no matter";
    EXPECT_EQ(told_of({{field_ring(-17.0, 180.0), {field_ring(-17.0, 180.0)}}}).empty(), false);
}

// What is flat must hold what the ellipsoid holds (PROJ, geod_polygonarea).
TEST(Validity, AreasAreThoseOfTheEllipsoid) {
    for (const double latitude : {-43.0, 0.5, 36.0, 53.1, 67.0}) {
        for (const double longitude : {-122.3, 8.2, 180.0}) {
            const Area area{{field_ring(latitude, longitude)}};
            const double flat = ground::size_m2(Flat::about(area).area(area));
            EXPECT_NEAR(flat, geodesic_m2(area), 1e-6 * flat) << latitude;
        }
    }
}

TEST(Validity, FlatGroundComesBack) {
    for (const double longitude : {-179.999, 8.2, 179.999}) {
        const Flat flat({53.1, longitude});
        const ground::Position corner{53.1034, std::remainder(longitude + 0.004, 360.0)};
        const auto back = flat.position(flat.point(corner));
        EXPECT_NEAR(back.latitude_deg, corner.latitude_deg, 1e-12);
        EXPECT_NEAR(back.longitude_deg, corner.longitude_deg, 1e-12);
        EXPECT_NEAR(std::hypot(flat.point(corner).east_m, flat.point(corner).north_m),
                    geodesic_m({53.1, longitude}, corner), 0.02);
    }
}

TEST(Validity, ABorderThatCrossesItselfIsToldWhere) {
    auto ring = field_ring();
    std::swap(ring[1], ring[2]);  // the diagonals meet in the middle
    expect_told({{ring}}, "crosses itself or another of its rings at 53.100000, 8.200000");
    auto at_antimeridian = field_ring(-17.0, 180.0);
    std::swap(at_antimeridian[1], at_antimeridian[2]);
    expect_told({{at_antimeridian}}, "crosses itself or another of its rings at -17.000000, ");
}

TEST(Validity, ABorderThatTouchesItselfIsToldWhere) {
    // Two squares joined at a corner, walked around as one.
    const Ring eight{{53.100, 8.200}, {53.100, 8.204}, {53.102, 8.204}, {53.104, 8.204},
                     {53.104, 8.208}, {53.102, 8.208}, {53.102, 8.204}, {53.102, 8.200}};
    expect_told({{eight}}, "touches itself at 53.102000, 8.204000");
}

TEST(Validity, HolesLieInside) {
    expect_told({{field_ring(), {smaller(4.0, 53.3)}}}, "a hole lies outside");
    expect_told({{field_ring(), {smaller(4.0), smaller(8.0)}}}, "two holes overlap");
    expect_told({{field_ring(), {smaller(4.0, 53.102)}}}, "crosses itself or another");
    expect_told({{field_ring(52.0)}, {field_ring(), {smaller(4.0, 53.3)}}},
                "a hole of polygon 2 lies outside");
}

TEST(Validity, PolygonsDoNotOverlap) {
    // The middle of what two share: 53.099 to 53.102.
    expect_told({{field_ring(53.3)}, {field_ring()}, {field_ring(53.101)}, {field_ring(53.2)}},
                "two of its polygons overlap at 53.100500, 8.200000");
    expect_told({{field_ring()}, {smaller(4.0)}}, "two of its polygons overlap at 53.100000, 8.2");
    EXPECT_EQ(told_of({{field_ring()}, {field_ring(53.104)}}), "") << "they share a border";
}

// Map files mean the straight line in degrees between two corners. In a plane that touches the
// earth a parallel is bent: 1.3 km of it by 5 cm, and two fields along it would overlap by 30 m2.
TEST(Validity, SidesAreStraightInDegrees) {
    const Ring south{{53.095, 8.19}, {53.095, 8.21}, {53.1, 8.21}, {53.1, 8.19}};
    const Ring north{{53.1, 8.19}, {53.1, 8.2}, {53.1, 8.21}, {53.105, 8.21}, {53.105, 8.19}};
    EXPECT_EQ(told_of({{south}, {north}}), "") << "a corner stands on the other's side";
    const auto bent = ground::LocalPlane({53.1, 8.2}).to_plane(Area{{south}, {north}});
    std::size_t polygon = 0;
    const auto flaw = flaw_of(bent, polygon);
    ASSERT_TRUE(flaw.has_value());
    EXPECT_EQ(flaw->kind, Flaw::polygons_overlap);
}

TEST(Validity, RingsThatEncloseNothing) {
    expect_told({}, "no ring");
    expect_told({{Ring{}}}, "0 corners");
    expect_told({{Ring{{53.1, 8.2}}}}, "1 corner.");
    expect_told({{Ring{{53.1, 8.2}, {53.2, 8.2}}}}, "2 corners");
    expect_told({{Ring{{53.1, 8.2}, {53.2, 8.3}, {53.3, 8.4}}}}, "in one line");
    expect_told({{Ring{{53.1, 179.999}, {53.1, -179.999}, {53.1, -179.99}}}}, "in one line");
    expect_told({{field_ring(), {Ring{{53.1, 8.2}, {53.1, 8.201}}}}}, "hole 1 has 2 corners");
}

TEST(Validity, CornersThatAreNowhere) {
    auto ring = field_ring();
    ring[2] = {0.0, 0.0};
    expect_told({{ring}}, "corner 3 of the outer ring is at latitude 0, longitude 0");
    ring[2] = {140.0, 53.1};
    expect_told({{ring}}, "corner 3 of the outer ring is at latitude 140");
    expect_told({{ring}}, "probably swapped: write the latitude first");
    expect_told({{ring}}, "write the longitude first", NumberOrder::longitude_first);
    ring[2] = {5'884'000.0, 446'000.0};
    expect_told({{ring}}, "look like metres of a map");
    expect_told({{ring}}, "whether the coordinate system is the right one", NumberOrder::projected);
    ring[2] = {std::nan(""), 8.2};
    expect_told({{ring}}, "nowhere on earth");
}

TEST(Validity, SizesThatNoFieldHas) {
    auto ring = field_ring();
    ring[2].longitude_deg = 82.0;  // for 8.2
    expect_told({{ring}}, "more than any field; the corner at 53.102000, 82.000000");
    // field_ring() covers 29.8 ha.
    expect_told({{smaller(0.05)}}, "this covers 11900 ha, more than any field.");
    expect_told({{smaller(100.0)}}, "this covers 0.00298 ha, less than a machine can turn on");
    // 0.02 ha and 4,800 ha are let through.
    EXPECT_EQ(told_of({{smaller(38.0)}}), "");
    EXPECT_EQ(told_of({{smaller(1.0 / 12.0)}}), "");
}

}  // namespace
}  // namespace beetwright::maps
