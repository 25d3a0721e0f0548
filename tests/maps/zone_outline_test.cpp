#include "maps/zone_outline.hpp"

#include <gtest/gtest.h>

#include "ground/plane_area.hpp"
#include "maps/plane_polygons.hpp"
#include "maps/zone_words.hpp"

namespace beetwright::maps {
namespace {

/// 30 x 20 cells of 5 m, turned and off the middle: a hollow of 6 x 4 cells within level ground, a
/// knoll in a corner.
struct Made {
    ground::Surface surface{.plane = ground::LocalPlane({-37.5, 180.0}),
                            .grid = {{-60.0, -40.0}, 0.4, 5.0, 30, 20},
                            .boundary = {},
                            .height_m = ground::Layer(600, 100.0),
                            .deviation_m = ground::Layer(600, 0.1),
                            .variogram = {},
                            .drift = {},
                            .notes = {}};
    engine::ZonesAnswer answer;
    Made() {
        answer.field = "Hollow Oak";
        answer.zone_of.assign(600, 1);
        const auto mark = [&](std::size_t from, std::size_t to, std::size_t low, std::size_t high,
                              int zone) {
            for (std::size_t row = low; row < high; ++row) {
                for (std::size_t column = from; column < to; ++column) {
                    answer.zone_of[surface.grid.at(column, row)] = zone;
                }
            }
        };
        mark(10, 16, 8, 12, 2);
        mark(24, 30, 16, 20, 3);
        for (const auto& [number, lie] : {std::pair{1, ground::Lie::level},
                                          {2, ground::Lie::hollow},
                                          {3, ground::Lie::knoll}}) {
            engine::ZoneFound zone;
            zone.number = number;
            zone.lie = lie;
            answer.zones.push_back(zone);
        }
        harvester::Control height;
        height.kind = harvester::ControlKind::roller_bed_height;
        engine::LieSettings level;
        level.settings.values["roller_bed.height"] = 0.03;
        level.controls.push_back(height);
        engine::LieSettings hollow;
        hollow.lie = ground::Lie::hollow;
        hollow.settings.values["roller_bed.height"] = 0.12;
        hollow.controls.push_back(height);
        engine::LieSettings knoll;
        knoll.lie = ground::Lie::knoll;
        knoll.settings.values["roller_bed.height"] = 0.03;
        answer.settings = {level, hollow, knoll};
    }
    [[nodiscard]] double m2(const ground::Area& area) const {
        return ground::size_m2(surface.plane.to_plane(area));
    }
};

TEST(ZoneOutline, ZonesCoverTheirCellsAndNoOthers) {
    const Made made;
    const auto plan = plan_of("a season", made.surface, made.answer);
    ASSERT_EQ(plan.zones.size(), 3U);
    EXPECT_NEAR(made.m2(plan.boundary), 600 * 25.0, 1e-3);
    EXPECT_NEAR(made.m2(plan.zones[0].area), (600 - 24 - 24) * 25.0, 1e-3);
    EXPECT_NEAR(made.m2(plan.zones[1].area), 24 * 25.0, 1e-3);
    EXPECT_NEAR(made.m2(plan.zones[2].area), 24 * 25.0, 1e-3);
    // The hollow is a hole in the field at large, and nothing overlaps.
    ASSERT_EQ(plan.zones[0].area.size(), 1U);
    EXPECT_EQ(plan.zones[0].area[0].holes.size(), 1U);
    for (std::size_t i = 0; i < 3; ++i) {
        const auto one = made.surface.plane.to_plane(plan.zones[i].area);
        std::size_t polygon = 0;
        EXPECT_FALSE(flaw_of(one, polygon).has_value());
        for (std::size_t j = i + 1; j < 3; ++j) {
            const auto other = made.surface.plane.to_plane(plan.zones[j].area);
            EXPECT_NEAR(ground::size_m2(in_common(one, other)), 0.0, 1e-3);
        }
    }
}

TEST(ZoneOutline, RingsHaveCornersWhereTheyTurnAndRunTheRightWay) {
    const Made made;
    const auto plan = plan_of("a season", made.surface, made.answer);
    const auto twice = [&](const ground::Ring& ring) {
        double sum = 0.0;
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const auto a = made.surface.plane.to_plane(ring[i]);
            const auto b = made.surface.plane.to_plane(ring[(i + 1) % ring.size()]);
            sum += a.east_m * b.north_m - b.east_m * a.north_m;
        }
        return sum;
    };
    EXPECT_EQ(plan.zones[1].area[0].outer.size(), 4U);
    EXPECT_EQ(plan.zones[0].area[0].outer.size(), 6U);  // a corner is the knoll's
    EXPECT_GT(twice(plan.zones[0].area[0].outer), 0.0);
    EXPECT_LT(twice(plan.zones[0].area[0].holes[0]), 0.0);
}

TEST(ZoneOutline, ABorderCutsWhatReachesOverIt) {
    Made made;
    const auto corner = [&](double along, double across) {
        return made.surface.grid.in_plane(along, across);
    };
    // A border through the middle of the knoll's cells.
    made.surface.boundary = {
        {{corner(0.0, 0.0), corner(135.0, 0.0), corner(135.0, 100.0), corner(0.0, 100.0)}, {}}};
    const auto plan = plan_of("a season", made.surface, made.answer);
    EXPECT_NEAR(made.m2(plan.zones[2].area), 15.0 * 20.0, 1e-3);
    EXPECT_NEAR(made.m2(plan.boundary), 135.0 * 100.0, 1e-3);
}

TEST(ZoneOutline, EachZoneHasTheControlsThatDifferSomewhere) {
    const Made made;
    const auto plan = plan_of("a season", made.surface, made.answer);
    for (const auto& zone : plan.zones) {
        ASSERT_EQ(zone.settings.size(), 1U);
        EXPECT_DOUBLE_EQ(zone.settings[0].value, zone.number == 2 ? 0.12 : 0.03);
    }
    EXPECT_EQ(plan.zones[1].words, "hollow");
}

TEST(ZoneOutline, WhatOnlyGroundWithoutAZoneWouldSetOtherwiseIsLeftOut) {
    Made made;
    std::erase_if(made.answer.zones,
                  [](const auto& zone) { return zone.lie == ground::Lie::hollow; });
    for (const auto& zone : plan_of("a season", made.surface, made.answer).zones) {
        EXPECT_TRUE(zone.settings.empty());
    }
}

TEST(ZoneOutline, SettingsSayWhatTheDisplayShows) {
    Made made;
    const auto reading = [](double shown) {
        engine::ControlReading of{
            .control = "roller_bed.height", .words = {}, .text = {}, .shown = {}};
        of.shown = harvester::DialReading{.shown = shown, .actual = 0.0};
        return of;
    };
    made.answer.settings[0].readings = {reading(3.0)};
    made.answer.settings[1].readings = {reading(12.0)};
    const auto plan = plan_of("a season", made.surface, made.answer);
    EXPECT_EQ(plan.zones[0].settings.at(0).shown, 3.0);
    EXPECT_EQ(plan.zones[1].settings.at(0).shown, 12.0);
    EXPECT_EQ(plan.zones[2].settings.at(0).shown, 3.0);  // as in the field at large
    EXPECT_EQ(settings_words(plan.zones[1]),
              "height of the roller bed over the ground: 120 mm (display 12)");
    // Where a display does not reach, nothing is shown, whatever it shows in the field at large.
    made.answer.settings[1].readings[0].shown.reset();
    EXPECT_EQ(plan_of("a season", made.surface, made.answer).zones[1].settings.at(0).shown,
              std::nullopt);
}

}  // namespace
}  // namespace beetwright::maps
