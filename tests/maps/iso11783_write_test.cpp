#include "maps/iso11783_write.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

#include "maps/ddi.hpp"
#include "maps/iso11783_cells.hpp"
#include "maps/iso11783_read.hpp"
#include "maps/zip.hpp"
#include "small_plan.hpp"

namespace beetwright::maps {
namespace {

using enum harvester::ControlKind;

WrittenTaskData written(const ZonePlan& plan, const TaskDataOptions& options = {}) {
    auto result = write_task_data(plan, options);
    EXPECT_TRUE(result.ok());
    if (!result) {
        ADD_FAILURE() << result.problems().front().text();
        return {};
    }
    return std::move(*result);
}

TaskDataReading read_back(const WrittenTaskData& data) {
    auto reading = read_task_data_zip(data.zip, "tasks.zip");
    EXPECT_TRUE(reading.ok());
    if (!reading) {
        ADD_FAILURE() << reading.problems().front().text();
        return {};
    }
    return std::move(*reading);
}

std::string refusal(const std::function<void(ZonePlan&)>& change,
                    const TaskDataOptions& options = {}) {
    auto plan = small_plan();
    change(plan);
    const auto result = write_task_data(plan, options);
    EXPECT_FALSE(result.ok());
    return result.ok() ? "" : result.problems().front().text();
}

/// Positions as far apart as nine places may round them.
void expect_same(const ground::Ring& a, const ground::Ring& b) {
    constexpr double kHalfOfTheLastPlace = 0.5000001e-9;
    ASSERT_EQ(a.size(), b.size());
    for (std::size_t k = 0; k < a.size(); ++k) {
        EXPECT_NEAR(a[k].latitude_deg, b[k].latitude_deg, kHalfOfTheLastPlace);
        EXPECT_NEAR(a[k].longitude_deg, b[k].longitude_deg, kHalfOfTheLastPlace);
    }
}
void expect_same(const ground::Area& a, const ground::Area& b) {
    ASSERT_EQ(a.size(), b.size());
    for (std::size_t p = 0; p < a.size(); ++p) {
        expect_same(a[p].outer, b[p].outer);
        ASSERT_EQ(a[p].holes.size(), b[p].holes.size());
        for (std::size_t h = 0; h < a[p].holes.size(); ++h) {
            expect_same(a[p].holes[h], b[p].holes[h]);
        }
    }
}

TEST(TaskDataWritten, ComesBackAsItWas) {
    const auto plan = small_plan();
    const auto data = written(plan);
    EXPECT_TRUE(data.notes.empty());
    const auto reading = read_back(data);
    EXPECT_TRUE(reading.notes.empty());
    ASSERT_EQ(reading.partfields.size(), 1U);
    EXPECT_EQ(reading.partfields[0].name, plan.field);
    EXPECT_EQ(reading.partfields[0].area, plan.boundary);  // its positions have few places
    ASSERT_EQ(reading.tasks.size(), 1U);
    const auto& task = reading.tasks[0];
    EXPECT_EQ(task.name, plan.season);
    EXPECT_EQ(task.partfield, plan.field);
    EXPECT_TRUE(task.comments.empty());
    EXPECT_TRUE(task.grids.empty());
    // Zone 2 is the larger by its piece beyond the road.
    EXPECT_EQ(task.default_zone, 2);
    EXPECT_EQ(task.position_lost_zone, 2);
    ASSERT_EQ(task.zones.size(), 2U);
    for (std::size_t z = 0; z < 2; ++z) {
        EXPECT_EQ(task.zones[z].code, plan.zones[z].number);
        EXPECT_EQ(task.zones[z].area, plan.zones[z].area);
    }
    EXPECT_EQ(task.zones[0].name, "1 low wet ground");
    const std::vector<IdentifiedValue> first{{ddi::kSetSpeed, 1389}, {ddi::kSetWorkingHeight, 90}};
    const std::vector<IdentifiedValue> second{{ddi::kSetSpeed, 1806}, {ddi::kSetWorkingHeight, 85}};
    EXPECT_EQ(task.zones[0].values, first);
    EXPECT_EQ(task.zones[1].values, second);
}

TEST(TaskDataWritten, ComesBackWithPositionsOfAnyPlaces) {
    auto plan = small_plan();
    const auto move = [](ground::Ring& ring, double by) {
        for (auto& corner : ring) {
            corner.latitude_deg = -corner.latitude_deg + by / 7.0;
            corner.longitude_deg = -corner.longitude_deg - by / 11.0;
        }
    };
    for (auto& zone : plan.zones) {
        for (auto& polygon : zone.area) {
            move(polygon.outer, 1e-3 * zone.number);
            for (auto& hole : polygon.holes) {
                move(hole, 1e-3 * zone.number);
            }
        }
    }
    const auto reading = read_back(written(plan));
    ASSERT_EQ(reading.tasks.size(), 1U);
    ASSERT_EQ(reading.tasks[0].zones.size(), 2U);
    for (std::size_t z = 0; z < 2; ++z) {
        expect_same(reading.tasks[0].zones[z].area, plan.zones[z].area);
    }
}

TEST(TaskDataWritten, IsTheSameBytesForTheSamePlan) {
    EXPECT_EQ(written(small_plan()).zip, written(small_plan()).zip);
}

TEST(TaskDataWritten, SaysWhoseItIs) {
    const auto files = read_zip(written(small_plan(), {.version = "1.2.3"}).zip, "tasks.zip");
    ASSERT_TRUE(files.ok());
    ASSERT_EQ(files->size(), 1U);
    EXPECT_EQ(files->front().name, "TASKDATA/TASKDATA.XML");
    const auto& xml = files->front().bytes;
    EXPECT_NE(xml.find("<ISO11783_TaskData VersionMajor=\"4\" VersionMinor=\"3\" "
                       "ManagementSoftwareManufacturer=\"Beetwright\" "
                       "ManagementSoftwareVersion=\"1.2.3\" DataTransferOrigin=\"1\">"),
              std::string::npos);
    EXPECT_NE(xml.find("<PNT A=\"2\" C=\"53.100000000\" D=\"8.200000000\"/>"), std::string::npos);
    // A customer and a farm are nobody's business here.
    EXPECT_EQ(xml.find("<CTR"), std::string::npos);
    EXPECT_EQ(xml.find("<FRM"), std::string::npos);
}

TEST(TaskDataWritten, ShortWordsGoIntoTheZonesName) {
    auto plan = small_plan();
    plan.zones[1].settings.push_back(set(share_depth, 0.07));
    const auto data = written(plan);
    EXPECT_EQ(data.notes, std::vector<std::string>{"the depth of the shares goes out in words, to "
                                                   "be set by hand"});
    const auto reading = read_back(data);
    EXPECT_EQ(reading.tasks.at(0).zones.at(1).name, "2 knoll: 70 mm share.depth");
    EXPECT_TRUE(reading.tasks[0].comments.empty());
}

TEST(TaskDataWritten, ManyWordsGoIntoComments) {
    auto plan = small_plan();
    plan.zones[1].settings.push_back(set(share_depth, 0.07));
    plan.zones[1].settings.push_back(set(turbine_speed, 40.0 / 60.0, 2));
    plan.zones[1].settings.push_back(set(last_roller_reversed, 1.0, 2));
    const auto reading = read_back(written(plan));
    EXPECT_EQ(reading.tasks.at(0).zones.at(1).name, "2 knoll");
    const std::vector<std::string> comments{"2: 70 mm share.depth", "2: 40 rpm turbine_2.speed",
                                            "2: on roller_bed_2.last_reversed"};
    EXPECT_EQ(reading.tasks[0].comments, comments);
}

TEST(TaskDataWritten, NamesAreCutAtCharactersAsTheStandardWants) {
    auto plan = small_plan();
    plan.field = "Rübenfeld über dem großen Mühlbach, hinten";  // 42 characters, 46 bytes
    const auto data = written(plan);
    EXPECT_EQ(data.notes.size(), 1U);
    EXPECT_EQ(read_back(data).partfields.at(0).name, "Rübenfeld über dem großen Mühlba");
}

TEST(TaskDataWritten, WordsAreCutBehindWhereTheyAreLongest) {
    auto plan = small_plan();
    plan.zones[1].number = 254;
    plan.zones[1].settings.push_back(set(last_roller_reversed, 0.0, 2));
    const auto data = written(plan);
    EXPECT_EQ(data.notes.back(),
              "'254: off roller_bed_2.last_reversed' is cut to the 32 characters that the standard "
              "allows");
    // The value is there, and no other control of the machine begins so.
    EXPECT_EQ(read_back(data).tasks.at(0).comments,
              std::vector<std::string>{"254: off roller_bed_2.last_rever"});
}

TEST(TaskDataWritten, OfSeveralOfAControlNoneGoesOutAsAValue) {
    auto plan = small_plan();
    for (auto& zone : plan.zones) {
        zone.settings = {set(forward_speed, 1.5, 1), set(forward_speed, 2.0, 2)};
    }
    const auto reading = read_back(written(plan));
    for (const auto& zone : reading.tasks.at(0).zones) {
        EXPECT_TRUE(zone.values.empty());
    }
    EXPECT_EQ(reading.tasks[0].comments.size(), 4U);
}

TEST(TaskDataWritten, AControlOfOneZoneIsAValueThere) {
    auto plan = small_plan();
    plan.zones[0].settings.clear();
    const auto reading = read_back(written(plan));
    EXPECT_TRUE(reading.tasks.at(0).zones.at(0).values.empty());
    EXPECT_EQ(reading.tasks[0].zones.at(1).values.size(), 2U);
}

TEST(TaskDataWritten, AGridHasEachZonesValuesInItsCells) {
    const auto plan = small_plan();
    const auto reading = read_back(written(plan, {.form = TaskDataForm::grid, .cell_m = 5.0}));
    const auto& task = reading.tasks.at(0);
    ASSERT_EQ(task.zones.size(), 1U);
    EXPECT_EQ(task.zones[0].name, "elsewhere as in zone 2 knoll");
    EXPECT_EQ(task.default_zone, task.zones[0].code);
    EXPECT_EQ(task.position_lost_zone, task.zones[0].code);
    const std::vector<IdentifiedValue> usual{{ddi::kSetSpeed, 1806}, {ddi::kSetWorkingHeight, 85}};
    EXPECT_EQ(task.zones[0].values, usual);
    ASSERT_EQ(task.grids.size(), 1U);
    const auto& grid = task.grids[0];
    const std::vector<std::uint16_t> identifiers{ddi::kSetSpeed, ddi::kSetWorkingHeight};
    EXPECT_EQ(grid.identifiers, identifiers);
    ASSERT_EQ(grid.steps.size(), 2U * grid.rows * grid.columns);
    // 0.002 degrees north are 222.6 m here: 45 rows of 5 m. 0.003 east are 200.9 m: 41 columns.
    EXPECT_EQ(grid.rows, 45U);
    EXPECT_EQ(grid.columns, 41U);
    for (std::uint32_t row = 0; row < grid.rows; ++row) {
        for (std::uint32_t column = 0; column < grid.columns; ++column) {
            const auto at = grid.middle(column, row);
            const std::size_t cell = std::size_t{row} * grid.columns + column;
            // The strip between the pieces has neither zone; the pond lies within zone 1.
            if (at.longitude_deg > 8.202 && at.longitude_deg < 8.2025) {
                EXPECT_TRUE(grid.steps[2 * cell] == 1389 || grid.steps[2 * cell] == 1806);
                continue;
            }
            const bool is_south = at.latitude_deg < 53.101 && at.longitude_deg < 8.2025;
            EXPECT_EQ(grid.steps[2 * cell], is_south ? 1389 : 1806) << row << ' ' << column;
            EXPECT_EQ(grid.steps[2 * cell + 1], is_south ? 90 : 85) << row << ' ' << column;
        }
    }
}

TEST(TaskDataWritten, AGridTellsWordsByZone) {
    auto plan = small_plan();
    plan.zones[1].settings.push_back(set(share_depth, 0.07));
    const auto reading = read_back(written(plan, {.form = TaskDataForm::grid}));
    const std::vector<std::string> comments{"2 knoll", "2: 70 mm share.depth"};
    EXPECT_EQ(reading.tasks.at(0).comments, comments);
}

TEST(TaskDataWritten, AGridHoldsWhatEveryZoneSets) {
    auto plan = small_plan();
    plan.zones[0].settings.pop_back();  // the height
    const TaskDataOptions grid{.form = TaskDataForm::grid};
    const auto data = written(plan, grid);
    EXPECT_EQ(read_back(data).tasks.at(0).grids.at(0).identifiers,
              std::vector<std::uint16_t>{ddi::kSetSpeed});
    EXPECT_EQ(data.notes.size(), 1U);
    const auto none = [](ZonePlan& of) { of.zones[0].settings.clear(); };
    EXPECT_NE(refusal(none, grid).find("a grid would be empty"), std::string::npos);
}

TEST(TaskDataWritten, CellsFitTheZones) {
    const auto as_it_is = [](ZonePlan&) {};
    EXPECT_NE(refusal(as_it_is, {.form = TaskDataForm::grid, .cell_m = 500.0})
                  .find("has the middle of no cell"),
              std::string::npos);
    EXPECT_NE(
        refusal(as_it_is, {.form = TaskDataForm::grid, .cell_m = 0.01}).find("more than 1000000"),
        std::string::npos);
    for (const double size : {0.0, -1.0, std::nan("")}) {
        EXPECT_NE(refusal(as_it_is, {.form = TaskDataForm::grid, .cell_m = size})
                      .find("have to have a size"),
                  std::string::npos);
    }
}

TEST(TaskDataWritten, WhatCannotBeAZoneIsRefused) {
    EXPECT_NE(refusal([](ZonePlan& plan) { plan.zones.clear(); }).find("has no zone"),
              std::string::npos);
    EXPECT_NE(refusal([](ZonePlan& plan) { plan.boundary.clear(); }).find("boundary: it has no"),
              std::string::npos);
    EXPECT_NE(refusal([](ZonePlan& plan) { plan.zones[1].number = 1; }).find("zone 1: two zones"),
              std::string::npos);
    EXPECT_NE(refusal([](ZonePlan& plan) { plan.zones[1].number = 255; }).find("from 1 to 254"),
              std::string::npos);
    EXPECT_NE(refusal([](ZonePlan& plan) {
                  plan.zones[1].area[0].outer.resize(2);
              }).find("zone 2: a ring of 2 corners"),
              std::string::npos);
    EXPECT_NE(refusal([](ZonePlan& plan) {
                  plan.zones[1].area[0].outer[0].latitude_deg = std::nan("");
              }).find("not on earth"),
              std::string::npos);
    EXPECT_NE(refusal([](ZonePlan& plan) {
                  plan.zones[1].settings[0].value = 1e9;
              }).find("zone 2, driving.speed: the value is beyond"),
              std::string::npos);
}

TEST(TaskDataWritten, AreasAreOfTheEllipsoid) {
    // From the equator to the pole over a quarter of the globe: an eighth of the ellipsoid, whose
    // surface is 2 pi a^2 + pi b^2 / e ln((1 + e) / (1 - e)).
    constexpr double kPi = std::numbers::pi;
    constexpr double a = 6378137.0;
    constexpr double f = 1.0 / 298.257223563;
    const double b = a * (1.0 - f);
    const double e = std::sqrt(f * (2.0 - f));
    const double eighth =
        (2.0 * kPi * a * a + kPi * b * b / e * std::log((1.0 + e) / (1.0 - e))) / 8.0;
    EXPECT_NEAR(area_m2({{{{0.0, 0.0}, {0.0, 90.0}, {90.0, 0.0}}, {}}}), eighth, 1e-9 * eighth);
    // A hole is taken out, whichever way it goes.
    const ground::Area whole{{rectangle(53.0, 8.0, 53.2, 8.2), {}}};
    const ground::Area ring{{rectangle(53.0, 8.0, 53.2, 8.2), {hole(53.05, 8.05, 53.1, 8.1)}}};
    const ground::Area cut{{rectangle(53.05, 8.05, 53.1, 8.1), {}}};
    EXPECT_NEAR(area_m2(ring), area_m2(whole) - area_m2(cut), 1e-3);
}

}  // namespace
}  // namespace beetwright::maps
