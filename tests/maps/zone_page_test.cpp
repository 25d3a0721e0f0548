#include "maps/zone_page.hpp"

#include <gtest/gtest.h>

#include <pugixml.hpp>
#include <set>
#include <sstream>

#include "maps/map_checks.hpp"
#include "maps/round_length.hpp"
#include "maps/zone_map.hpp"
#include "small_plan.hpp"

namespace beetwright::maps {
namespace {

/// The page as the XML that it is.
class Read {
 public:
    explicit Read(const std::string& page) : text(page) {
        const auto done = xml_.load_string(page.c_str(), pugi::parse_full);
        EXPECT_TRUE(done) << done.description() << " at "
                          << page.substr(static_cast<std::size_t>(done.offset), 80);
    }
    [[nodiscard]] std::vector<pugi::xml_node> all(const std::string& path) const {
        std::vector<pugi::xml_node> nodes;
        for (const auto& found : xml_.select_nodes(path.c_str())) {
            nodes.push_back(found.node());
        }
        return nodes;
    }
    [[nodiscard]] pugi::xml_node one(const std::string& path) const {
        const auto nodes = all(path);
        EXPECT_EQ(nodes.size(), 1U) << path;
        return nodes.empty() ? pugi::xml_node() : nodes.front();
    }
    /// Texts of the cells beside this head, joined within each.
    [[nodiscard]] std::vector<std::string> row(const std::string& head) const {
        std::vector<std::string> cells;
        for (const auto& node : all("//tbody/tr[th='" + head + "']/td")) {
            cells.push_back(words(node));
        }
        return cells;
    }
    [[nodiscard]] static std::string words(const pugi::xml_node& node) {
        std::string joined;
        for (const auto& text : node.select_nodes(".//text()")) {
            joined += (joined.empty() ? "" : "|") + std::string(text.node().value());
        }
        return joined;
    }

    std::string text;

 private:
    pugi::xml_document xml_;
};

/// Corners of a path, in the drawing's units.
std::vector<std::pair<double, double>> corners(const pugi::xml_node& path) {
    std::string text = path.attribute("d").value();
    for (auto& c : text) {
        c = c == 'M' || c == 'L' || c == 'Z' ? ' ' : c;
    }
    std::istringstream in(text);
    std::vector<std::pair<double, double>> all;
    for (double x = 0.0, y = 0.0; in >> x >> y;) {
        all.emplace_back(x, y);
    }
    return all;
}

struct Span {
    double width;
    double height;
};

Span span_of(const std::vector<std::pair<double, double>>& corners) {
    double left = 1e9;
    double right = -1e9;
    double top = 1e9;
    double bottom = -1e9;
    for (const auto& [x, y] : corners) {
        left = std::min(left, x);
        right = std::max(right, x);
        top = std::min(top, y);
        bottom = std::max(bottom, y);
    }
    return {right - left, bottom - top};
}

/// A field of 100 m by 100 m, its west half zone 1.
ZonePlan square_plan(const ground::Position& middle) {
    const ground::LocalPlane plane(middle);
    const auto box = [&](double west, double east) {
        return plane.to_earth(
            ground::PlaneArea{{{{west, -50.0}, {east, -50.0}, {east, 50.0}, {west, 50.0}}, {}}});
    };
    ZonePlan plan;
    plan.field = "Hollow Oak";
    plan.boundary = box(-50.0, 50.0);
    plan.zones.push_back({1, "level ground", box(-50.0, 0.0), {}});
    plan.zones.push_back({2, "hollow", box(0.0, 50.0), {}});
    return plan;
}

TEST(ZonePage, IsDrawnToScale) {
    for (const auto& middle : {ground::Position{53.1, 8.2}, {-41.0, 179.9999}, {0.1, -75.0}}) {
        for (const auto units : {UnitSystem::metric, UnitSystem::us}) {
            const Read page(zone_page(square_plan(middle), {.units = units}));
            const auto border = span_of(corners(page.one("//path[@class='border']")));
            EXPECT_NEAR(border.width, border.height, 0.03);  // two decimals are written
            const auto bar = page.one("//g[@class='scale']");
            const double bar_m = bar.attribute("data-metres").as_double();
            const double bar_width =
                bar.find_child_by_attribute("class", "bar").attribute("width").as_double();
            // As long to the bar as 100 m are to what the bar says of itself.
            EXPECT_NEAR(border.width / bar_width, 100.0 / bar_m, 1e-3 * 100.0 / bar_m);
            const std::string said = Read::words(page.all("//text[@class='bar-end']").at(1));
            EXPECT_EQ(said, units == UnitSystem::us ? "100 ft" : "50 m");
            EXPECT_DOUBLE_EQ(bar_m, units == UnitSystem::us ? 30.48 : 50.0);
            // Each zone is half as wide, the west one to the left.
            const auto west = corners(page.one("//path[@data-zone='1']"));
            const auto east = corners(page.one("//path[@data-zone='2']"));
            EXPECT_NEAR(span_of(west).width, 0.5 * border.width, 0.03);
            EXPECT_NEAR(span_of(east).height, border.height, 0.03);
            EXPECT_LT(west.at(0).first, east.at(1).first);
            // North is up: corners go from the south-west, so the first lies lower than the third.
            EXPECT_GT(west.at(0).second, west.at(2).second);
        }
    }
}

TEST(ZonePage, DegreesStandWhereTheyAre) {
    const auto plan = zone_plan();  // 53.098 to 53.102 north, 8.195 to 8.205 east
    const Read page(zone_page(plan, {}));
    const auto border = corners(page.one("//path[@class='border']"));
    const auto [left, south] = border.at(0);
    const auto [right, north] = border.at(2);
    const auto labels = page.all("//text[@class='longitude']");
    ASSERT_GE(labels.size(), 2U);
    for (const auto& label : labels) {
        const std::string words = Read::words(label);
        EXPECT_TRUE(words.ends_with("° E")) << words;
        const double expected = left + (right - left) * (std::stod(words) - 8.195) / 0.01;
        EXPECT_NEAR(label.attribute("x").as_double(), expected, 0.5) << words;
    }
    for (const auto& label : page.all("//text[@class='latitude']")) {
        const std::string words = Read::words(label);
        EXPECT_TRUE(words.ends_with("° N")) << words;
        const double expected = south + (north - south) * (std::stod(words) - 53.098) / 0.004;
        EXPECT_NEAR(label.attribute("y").as_double() - 4.5, expected, 0.5) << words;
    }
    EXPECT_NE(page.text.find("Middle of the field: 53.10000 N 8.20000 E"), std::string::npos);
    const Read south_west(zone_page(square_plan({-41.0, -71.0}), {}));
    EXPECT_TRUE(Read::words(south_west.all("//text[@class='latitude']").at(0)).ends_with("° S"));
    EXPECT_TRUE(Read::words(south_west.all("//text[@class='longitude']").at(0)).ends_with("° W"));
    // Across the antimeridian, degrees go on with the other sign.
    const Read across(zone_page(square_plan({-41.0, 180.0}), {}));
    std::string words;
    for (const auto& label : across.all("//text[@class='longitude']")) {
        words += Read::words(label) + " ";
    }
    EXPECT_NE(words.find("° E"), std::string::npos) << words;
    EXPECT_NE(words.find("° W"), std::string::npos) << words;
}

TEST(ZonePage, SaysAreasAndSettingsInPeoplesUnits) {
    using enum harvester::ControlKind;
    auto plan = square_plan({53.1, 8.2});
    plan.season = "Autumn 2031";
    plan.zones[0].settings = {set(share_depth, 0.07), set(forward_speed, 1.5)};
    plan.zones[1].settings = {set(share_depth, 0.055), set(forward_speed, 1.5)};
    plan.zones[1].settings[0].shown = 1.5;
    engine::ZoneFound hollow;
    hollow.number = 2;
    hollow.lie = ground::Lie::hollow;
    hollow.gain = {Money(162.0), Money(-158.0), Money(532.0)};
    hollow.chance_better = 0.72;
    ZonePageFacts facts{.currency = "EUR",
                        .machine = "Harvester North",
                        .at = *parse_instant("2031-10-04T07:45:12Z"),
                        .found = {hollow},
                        .cautions = {"Look only when the machine stands."}};
    using Cells = std::vector<std::string>;
    {
        const Read page(zone_page(plan, facts));
        EXPECT_EQ(Read::words(page.one("//h1")), "Hollow Oak, Autumn 2031");
        EXPECT_EQ(Read::words(page.one("//header/p")),
                  "Harvester North: 2 zones, 1.0 ha. Worked out 2031-10-04 07:45 UTC.");
        EXPECT_EQ(page.row("ground"), (Cells{"0.5 ha", "0.5 ha"}));
        EXPECT_EQ(page.row("depth of the shares"), (Cells{"70 mm", "display 1.5|55 mm"}));
        EXPECT_EQ(page.row("forward speed"), (Cells{"5.4 km/h", "5.4 km/h"}));
        EXPECT_EQ(page.row("gain by its own setting, switches paid for"),
                  (Cells{"", "162 EUR|−158 to 532"}));
        EXPECT_EQ(page.row("chance of a gain"), (Cells{"", "72 %"}));
        EXPECT_EQ(page.all("//td[@class='other']").size(), 1U);
        EXPECT_EQ(Read::words(page.one("//div[@class='caution']//li")), facts.cautions[0]);
    }
    facts.units = UnitSystem::us;
    const Read page(zone_page(plan, facts));
    EXPECT_EQ(page.row("ground"), (Cells{"1.2 acre", "1.2 acre"}));  // 5000 m2
    EXPECT_EQ(page.row("depth of the shares"), (Cells{"2.76 in", "display 1.5|2.17 in"}));
    EXPECT_EQ(page.row("forward speed"), (Cells{"3.4 mph", "3.4 mph"}));
}

TEST(ZonePage, ZonesAreToldApartWithoutColour) {
    auto plan = square_plan({53.1, 8.2});
    for (int number = 3; number <= 8; ++number) {
        plan.zones.push_back(plan.zones[1]);
        plan.zones.back().number = number;
    }
    const Read page(zone_page(plan, {}));
    std::set<std::string> fills;
    for (int number = 1; number <= 6; ++number) {
        const auto zone = page.one("//path[@data-zone='" + std::to_string(number) + "']");
        const std::string fill = zone.attribute("fill").value();
        fills.insert(fill);
        if (number > 1) {
            ASSERT_TRUE(fill.starts_with("url(#")) << fill;
            EXPECT_TRUE(page.one("//pattern[@id='" + fill.substr(5, fill.size() - 6) + "']"));
        }
    }
    EXPECT_EQ(fills.size(), 6U);
    EXPECT_EQ(page.all("//text[@class='number']").size(), 8U);
    EXPECT_EQ(page.all("//table").size(), 2U);  // six zones go beside each other
}

TEST(ZonePage, ANumberStandsInItsZone) {
    auto plan = small_plan();
    const Read page(zone_page(plan, {}));
    // Zone 2 has two pieces, both with room; zone 1 goes around a pond.
    EXPECT_EQ(page.all("//text[@class='number']").size(), 3U);
    const auto first = page.all("//circle[@class='number']").at(0);
    const double x = first.attribute("cx").as_double();
    const double y = first.attribute("cy").as_double();
    const auto zone = corners(page.one("//path[@data-zone='1']"));
    ASSERT_EQ(zone.size(), 8U);
    const bool in_pond =
        x > zone[4].first && x < zone[6].first && y < zone[4].second && y > zone[5].second;
    EXPECT_FALSE(in_pond);
    EXPECT_GT(x, zone[0].first);
    EXPECT_LT(x, zone[1].first);
    EXPECT_LT(y, zone[0].second);
    EXPECT_GT(y, zone[2].second);
}

TEST(ZonePage, AnyNamesMayStandInIt) {
    auto plan = small_plan();
    plan.season = "</style><script>alert('&')</script>";
    plan.zones[0].words = "low \x01 <b> \"wet\" \xff & ground";
    const Read page(zone_page(plan, {.currency = "<EUR>",
                                     .machine = "Ada & <Sons>",
                                     .cautions = {"mind <this> & \"that\""},
                                     .assumptions = {"a < b"}}));
    EXPECT_EQ(Read::words(page.one("//h1")), plan.field + ", " + plan.season);
    EXPECT_EQ(Read::words(page.one("//title")), plan.field + ", " + plan.season + ": zones");
    EXPECT_TRUE(page.all("//script").empty());
    EXPECT_TRUE(page.all("//b").empty());
    EXPECT_EQ(Read::words(page.one("//div[@class='caution']//li")), "mind <this> & \"that\"");
    EXPECT_EQ(Read::words(page.all("//thead/tr/th/small").at(0)), " low   <b> \"wet\" ? & ground");
}

TEST(ZonePage, AsksNothingOfAnyNetwork) {
    const auto page = zone_page(small_plan(), {});
    for (const auto* word : {"http", "src=", "@import", "<script", "<link"}) {
        EXPECT_EQ(page.find(word), std::string::npos) << word;
    }
}

TEST(ZonePage, APlanWithoutGroundHasNoMap) {
    ZonePlan plan;
    plan.field = "Hollow Oak";
    plan.zones.push_back({1, "level ground", {}, {}});
    const Read page(zone_page(plan, {}));
    EXPECT_TRUE(page.all("//svg[@class='zone-map']").empty());
    EXPECT_NE(page.text.find("Nothing is drawn"), std::string::npos);
    EXPECT_FALSE(middle_of_plan(plan).has_value());
}

TEST(ZonePage, HeightsAreLinesARoundStepApart) {
    // 100 m by 100 m that rises by 3.2 m to the east.
    ground::Surface surface{.plane = ground::LocalPlane({53.1, 8.2}),
                            .grid = {{-50.0, -50.0}, 0.0, 5.0, 20, 20},
                            .boundary = {},
                            .height_m = {},
                            .deviation_m = ground::Layer(400, 0.1),
                            .variogram = {},
                            .drift = {},
                            .notes = {}};
    for (std::size_t cell = 0; cell < 400; ++cell) {
        surface.height_m.push_back(40.0 + 0.032 * surface.grid.middle(cell).east_m);
    }
    const auto relief = relief_lines(surface, UnitSystem::metric);
    EXPECT_DOUBLE_EQ(relief.step_m, 0.2);  // 3.04 m between outermost middles, by 8
    ASSERT_EQ(relief.lines.size(), 15U);   // 38.6 to 41.4
    const auto plan = square_plan({53.1, 8.2});
    const Read page(zone_page(plan, {.relief = relief}));
    const auto lines = page.all("//path[@class='relief']");
    ASSERT_EQ(lines.size(), 15U);
    const auto border = corners(page.one("//path[@class='border']"));
    // 40 m high is the middle.
    for (const auto& [x, y] : corners(lines[7])) {
        EXPECT_NEAR(x, 0.5 * (border[0].first + border[1].first), 0.02);
    }
    EXPECT_NE(page.text.find("0.2 m apart"), std::string::npos);
    EXPECT_NEAR(relief_lines(surface, UnitSystem::us).step_m, 0.3048, 1e-12);  // 1 ft: 10 ft by 8
    surface.height_m.assign(400, 40.0);
    EXPECT_TRUE(relief_lines(surface, UnitSystem::metric).lines.empty());
}

TEST(RoundLength, IsTheLongestRoundOneThatFits) {
    EXPECT_EQ(round_length(99.9, UnitSystem::metric).words, "50 m");
    EXPECT_EQ(round_length(100.0, UnitSystem::metric).words, "100 m");
    EXPECT_EQ(round_length(4999.0, UnitSystem::metric).words, "2 km");
    EXPECT_EQ(round_length(0.3, UnitSystem::metric).words, "0.2 m");
    EXPECT_EQ(round_length(1000.0, UnitSystem::us).words, "2000 ft");
    EXPECT_EQ(round_length(1610.0, UnitSystem::us).words, "1 mi");
    EXPECT_NEAR(round_length(1610.0, UnitSystem::us).metres, 1609.344, 1e-9);
    EXPECT_DOUBLE_EQ(round_number(0.07), 0.05);
    EXPECT_DOUBLE_EQ(round_number(20.0), 20.0);
}

}  // namespace
}  // namespace beetwright::maps
