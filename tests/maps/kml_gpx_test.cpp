#include <gtest/gtest.h>

#include <cstdlib>
#include <pugixml.hpp>
#include <set>

#include "maps/gpx.hpp"
#include "maps/kml.hpp"
#include "maps/map_checks.hpp"
#include "maps/xml_text.hpp"

namespace beetwright::maps {
namespace {

/// A ring of KML, "east,north east,north", without its last corner, which is the first again.
ground::Ring ring_of(const char* text) {
    ground::Ring ring;
    char* at = nullptr;
    for (const char* from = text; *from != '\0';) {
        const double east = std::strtod(from, &at);
        EXPECT_EQ(*at, ',');
        const double north = std::strtod(at + 1, &at);
        ring.push_back({north, east});
        from = *at == ' ' ? at + 1 : at;
    }
    EXPECT_EQ(ring.front(), ring.back());
    ring.pop_back();
    return ring;
}

ground::Area area_of(const pugi::xml_node& placemark) {
    ground::Area area;
    for (const auto& polygon : placemark.child("MultiGeometry").children("Polygon")) {
        auto& to = area.emplace_back();
        const auto ring = [](const pugi::xml_node& side) {
            return ring_of(side.child("LinearRing").child_value("coordinates"));
        };
        to.outer = ring(polygon.child("outerBoundaryIs"));
        for (const auto& hole : polygon.children("innerBoundaryIs")) {
            to.holes.push_back(ring(hole));
        }
    }
    return area;
}

ZonePlan plan_with_a_pond() {
    auto plan = zone_plan();
    plan.zones[0].area[0].holes.push_back(
        {{53.099, 8.196}, {53.101, 8.196}, {53.101, 8.198}, {53.099, 8.198}});
    return plan;
}

TEST(Kml, ComesBack) {
    const auto plan = plan_with_a_pond();
    pugi::xml_document xml;
    ASSERT_TRUE(xml.load_string(write_kml(plan).c_str()));
    const auto document = xml.child("kml").child("Document");
    EXPECT_STREQ(xml.child("kml").attribute("xmlns").value(), "http://www.opengis.net/kml/2.2");
    EXPECT_EQ(document.child_value("name"), plan.field + ", 2031");
    std::vector<pugi::xml_node> placemarks;
    for (const auto& placemark : document.children("Placemark")) {
        placemarks.push_back(placemark);
    }
    ASSERT_EQ(placemarks.size(), 3U);
    EXPECT_EQ(placemarks[0].child_value("name"), plan.field);
    expect_same(area_of(placemarks[0]), plan.boundary);
    EXPECT_STREQ(placemarks[1].child_value("name"), "zone 1: knoll");
    expect_same(area_of(placemarks[1]), plan.zones[0].area);
    expect_same(area_of(placemarks[2]), plan.zones[1].area);
    const auto& [control, value, shown] = plan.zones[0].settings[1];
    const std::string line = control.words() + ": " + control.text(value);
    EXPECT_NE(std::string(placemarks[1].child_value("description")).find(line), std::string::npos);
}

/// The hue of a colour as KML writes it, in degrees around the circle, and how light it is.
std::pair<double, double> hue_and_light(const std::string& text) {
    const auto part = [&](std::size_t at) {
        return std::strtod(("0x" + text.substr(at, 2)).c_str(), nullptr);
    };
    const double red = part(6);
    const double green = part(4);
    const double blue = part(2);
    const double most = std::max({red, green, blue});
    const double least = std::min({red, green, blue});
    EXPECT_EQ(most, green);
    return {120.0 + 60.0 * (blue - red) / (most - least), most + least};
}

TEST(Kml, FillsAreOfOneHueAndGrowDarker) {
    auto plan = zone_plan();
    for (int number = 3; number <= 6; ++number) {
        plan.zones.push_back(plan.zones[0]);
        plan.zones.back().number = number;
    }
    pugi::xml_document xml;
    ASSERT_TRUE(xml.load_string(write_kml(plan).c_str()));
    const auto document = xml.child("kml").child("Document");
    double light = 1e9;
    int zones = 0;
    for (const auto& style : document.children("Style")) {
        const std::string fill = style.child("PolyStyle").child_value("color");
        if (fill.empty()) {
            EXPECT_STREQ(style.child("PolyStyle").child_value("fill"), "0") << "the field's";
            continue;
        }
        ++zones;
        const auto seen = hue_and_light(fill);
        EXPECT_NEAR(seen.first, 153.0, 6.0);
        EXPECT_LT(seen.second, light);
        light = seen.second;
    }
    EXPECT_EQ(zones, 6);
}

TEST(Gpx, ComesBack) {
    const auto plan = plan_with_a_pond();
    pugi::xml_document xml;
    ASSERT_TRUE(xml.load_string(write_gpx(plan).c_str()));
    const auto root = xml.child("gpx");
    EXPECT_STREQ(root.attribute("version").value(), "1.1");
    EXPECT_EQ(root.child("metadata").child_value("name"), plan.field + ", 2031");
    std::size_t zone = 0;
    for (const auto& track : root.children("trk")) {
        ASSERT_LT(zone, plan.zones.size());
        std::vector<ground::Ring> rings;
        for (const auto& segment : track.children("trkseg")) {
            auto& ring = rings.emplace_back();
            for (const auto& point : segment.children("trkpt")) {
                ring.push_back(
                    {point.attribute("lat").as_double(), point.attribute("lon").as_double()});
            }
            ASSERT_EQ(ring.front(), ring.back()) << "borders are closed";
            ring.pop_back();
        }
        ground::Area back{{rings.at(0)}};
        back[0].holes.assign(rings.begin() + 1, rings.end());
        expect_same(back, plan.zones[zone].area);
        EXPECT_EQ(track.child("number").text().as_int(), plan.zones[zone].number);
        ++zone;
    }
    EXPECT_EQ(zone, 2U);
    // GPX 1.1's schema has these in this order.
    const auto track = root.child("trk");
    EXPECT_STREQ(track.first_child().name(), "name");
    EXPECT_STREQ(track.child("desc").next_sibling().name(), "number");
}

TEST(KmlAndGpx, AreasAreCutAtTheAntimeridian) {
    auto plan = zone_plan();
    plan.zones.resize(1);
    plan.zones[0].area = {{field_ring(-17.0, 180.0)}};
    plan.boundary = plan.zones[0].area;
    pugi::xml_document kml;
    ASSERT_TRUE(kml.load_string(write_kml(plan).c_str()));
    const auto back = area_of(kml.child("kml").child("Document").child("Placemark"));
    ASSERT_EQ(back.size(), 2U);
    EXPECT_NEAR(geodesic_m2(back), geodesic_m2(plan.boundary), 1e-6 * geodesic_m2(plan.boundary));
    pugi::xml_document gpx;
    ASSERT_TRUE(gpx.load_string(write_gpx(plan).c_str()));
    const auto segments = gpx.child("gpx").child("trk").children("trkseg");
    EXPECT_EQ(std::distance(segments.begin(), segments.end()), 2);
}

TEST(KmlAndGpx, NamesThatXmlDoesNotLetIn) {
    EXPECT_EQ(xml_text("a\x01"
                       "b\x7F\nR\xC3\xBC"
                       "be\xFF"),
              "a b \nRübe?");
    auto plan = zone_plan();
    plan.field = "]]> <a href='x'>\x02";
    pugi::xml_document xml;
    ASSERT_TRUE(xml.load_string(write_kml(plan).c_str()));
    EXPECT_STREQ(xml.child("kml").child("Document").child("Placemark").child_value("name"),
                 "]]> <a href='x'> ");
    ASSERT_TRUE(xml.load_string(write_gpx(plan).c_str()));
}

}  // namespace
}  // namespace beetwright::maps
