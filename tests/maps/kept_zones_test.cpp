// Zones that people keep, as they are sent, written down and fitted together.
#include "maps/kept_zones.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

#include "ground/local_plane.hpp"
#include "ground/plane_area.hpp"

namespace beetwright::maps {
namespace {

using Json = nlohmann::json;
using ground::Lie;

// Metres in a plane around a middle, by its own arithmetic and back.
const ground::LocalPlane kPlane({48.2, 16.3});

ground::Area square(double west_m, double south_m, double side_m) {
    return kPlane.to_earth(ground::PlaneArea{{{{west_m, south_m},
                                               {west_m + side_m, south_m},
                                               {west_m + side_m, south_m + side_m},
                                               {west_m, south_m + side_m}},
                                              {}}});
}

double m2(const ground::Area& area) {
    return ground::size_m2(kPlane.to_plane(area));
}

KeptZones three() {
    return {.at = *parse_instant("2031-11-20T08:00:00Z"),
            .machine = "Harvester North",
            .zones = {{1, Lie::level, square(0, 0, 400), {{"share.depth", 0.07}}},
                      {2, Lie::knoll, square(300, 100, 200), {{"share.depth", 0.06}}},
                      {3, Lie::hollow, square(200, 100, 150), {}}}};
}

TEST(KeptZones, ReadBackAsTheyWereWritten) {
    const auto once = read_kept_zones(kept_zones_text(three()), "zones.json");
    ASSERT_TRUE(once.ok()) << once.problems()[0].text();
    ASSERT_EQ(once->zones.size(), 3U);
    EXPECT_EQ(once->at, three().at);
    EXPECT_EQ(once->machine, "Harvester North");
    EXPECT_EQ(once->zones[1].lie, Lie::knoll);
    EXPECT_EQ(once->zones[1].controls, three().zones[1].controls);
    EXPECT_NEAR(m2(once->zones[1].area), 40'000.0, 1.0);
    const auto twice = read_kept_zones(kept_zones_text(*once), "zones.json");
    EXPECT_EQ(*twice, *once);
}

TEST(KeptZones, StandByTheirNumbers) {
    auto zones = three();
    std::swap(zones.zones[0], zones.zones[2]);
    const auto read = read_kept_zones(kept_zones_text(zones), "zones.json");
    ASSERT_TRUE(read.ok());
    EXPECT_EQ(read->zones[0].number, 1);
    EXPECT_EQ(read->zones[2].number, 3);
}

TEST(KeptZones, FitTogetherWithoutRestAndWithoutOverlap) {
    std::vector<std::string> notes;
    // The border is the first zone's square: the knoll hangs out by half, and the hollow lies under
    // a quarter of what is left of it.
    const auto fitted = fitted_together(three(), square(0, 0, 400), notes);
    ASSERT_EQ(fitted.zones.size(), 3U);
    EXPECT_NEAR(m2(fitted.zones[1].area), 100.0 * 200.0, 1.0);
    EXPECT_NEAR(m2(fitted.zones[2].area), 150.0 * 150.0 - 50.0 * 150.0, 1.0);
    EXPECT_NEAR(m2(fitted.zones[0].area), 160'000.0 - 20'000.0 - 15'000.0, 1.0);
    ASSERT_EQ(notes.size(), 2U);
    EXPECT_EQ(notes[0], "zone 2: 2.00 ha outside the field was cut away");
    EXPECT_EQ(notes[1], "zone 3: 0.75 ha that another zone covers was cut away");
}

TEST(KeptZones, WithoutABorderTheFieldAtLargeIsWhatWasSentOfIt) {
    std::vector<std::string> notes;
    const auto fitted = fitted_together(three(), {}, notes);
    EXPECT_NEAR(m2(fitted.zones[1].area), 40'000.0, 1.0);
    EXPECT_NEAR(m2(fitted.zones[0].area), 160'000.0 - 20'000.0 - 15'000.0, 1.0);
}

TEST(KeptZones, AZoneOfWhichNothingIsLeftIsLeftOut) {
    auto zones = three();
    zones.zones[2].area = square(310, 110, 50);
    std::vector<std::string> notes;
    EXPECT_EQ(fitted_together(zones, square(0, 0, 400), notes).zones.size(), 2U);
    EXPECT_EQ(notes.size(), 2U) << "and it is told";
}

/// A machine whose display of the shares' depth is known.
ledger::Machine six_rows() {
    ledger::Machine machine;
    machine.name = "Harvester North";
    machine.rows = 6;
    machine.row_spacing = Length(0.45);
    machine.build = harvester::MachineKind::six_row_turbines;
    ledger::OwnControl depth;
    depth.control = "share.depth";
    depth.display_step = 0.5;
    depth.dial = {{{2.0, 0.06}, {}}, {{4.0, 0.08}, {}}};
    machine.controls = {depth};
    return machine;
}

/// Where the first problem of this document stands.
std::string first_problem(const Json& document) {
    const auto read = read_kept_zones(document.dump(), "zones.json");
    return read.ok() ? "" : read.problems()[0].where.field;
}

TEST(KeptZones, SayWhatIsWrongAndWhere) {
    const Json good = Json::parse(kept_zones_text(three()));
    EXPECT_EQ(first_problem(good), "");
    const auto with = [&](const char* path, const Json& value) {
        auto document = good;
        document[Json::json_pointer(path)] = value;
        return first_problem(document);
    };
    EXPECT_EQ(with("/at", "today"), "at");
    EXPECT_EQ(with("/machine", 3), "machine");
    EXPECT_EQ(with("/zones", Json::array()), "zones");
    EXPECT_EQ(with("/zones", "none"), "zones");
    EXPECT_EQ(with("/zones/1/number", 0), "zones[1].number");
    EXPECT_EQ(with("/zones/1/number", 3), "zones[2].number") << "it is there twice";
    EXPECT_EQ(with("/zones/1/number", 25), "zones[1].number");
    EXPECT_EQ(with("/zones/1/lie", "hill"), "zones[1].lie");
    EXPECT_EQ(with("/zones/1/geometry", nullptr), "zones[1].geometry");
    EXPECT_EQ(with("/zones/1/geometry/coordinates/0/0/1/1", "x"),
              "zones[1].geometry.coordinates[0][0][1]");
    EXPECT_EQ(with("/zones/1/controls", nullptr), "zones[1].controls");
    EXPECT_EQ(with("/zones/1/controls/0/control", "sail.height"), "zones[1].controls[0].control");
    EXPECT_EQ(with("/zones/1/controls/0/value", "much"), "zones[1].controls[0].value");
    auto twice = good;
    twice["zones"][1]["controls"].push_back(twice["zones"][1]["controls"][0]);
    EXPECT_EQ(first_problem(twice), "zones[1].controls[1].control");
    auto many = good;
    for (int number = 4; number <= 25; ++number) {
        auto zone = good["zones"][1];
        zone["number"] = number;
        many["zones"].push_back(zone);
    }
    EXPECT_EQ(first_problem(many), "zones");
}

TEST(KeptZones, GoOutWithTheControlsOfTheirMachine) {
    const auto machine = six_rows();
    const auto plan = plan_of("a season", "a field", square(0, 0, 400), three(), machine);
    ASSERT_TRUE(plan.ok());
    ASSERT_EQ(plan->zones.size(), 3U);
    ASSERT_EQ(plan->zones[1].settings.size(), 1U);
    EXPECT_EQ(plan->zones[1].settings[0].control.text(plan->zones[1].settings[0].value), "60 mm");
    EXPECT_EQ(plan->zones[1].settings[0].shown, 2.0) << "what its display shows then";
    EXPECT_EQ(plan->zones[1].words, "knoll");

    auto wrong = three();
    wrong.zones[1].controls = {{"share.depth", 3.0}, {"turbine_9.speed", 1.0}};
    const auto refused = plan_of("a season", "a field", {}, wrong, machine);
    ASSERT_FALSE(refused.ok());
    ASSERT_EQ(refused.problems().size(), 2U);
    EXPECT_EQ(refused.problems()[0].where.field, "zones[1].controls[0]");
    EXPECT_EQ(refused.problems()[1].where.field, "zones[1].controls[1]");
}

TEST(KeptZones, WithoutABorderGoOutWithinWhatTheyCoverTogether) {
    const auto machine = six_rows();
    const auto plan = plan_of("a season", "a field", {}, three(), machine);
    ASSERT_TRUE(plan.ok());
    EXPECT_NEAR(m2(plan->boundary), 160'000.0 + 100.0 * 200.0, 1.0);
}

}  // namespace
}  // namespace beetwright::maps
