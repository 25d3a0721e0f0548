// Into which zones ground parts, on made-up relief and the demo's machines and fields.
#include "engine/zones_question.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "demo_season/invent.hpp"
#include "engine/zone_worth.hpp"
#include "ground/driven.hpp"

namespace beetwright::engine {
namespace {

using ground::Lie;

const ledger::Season& demo() {
    static const auto season =
        demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
    return season;
}

double bump(const ground::Point& at, double east, double north, double radius, double height) {
    const double off = std::hypot(at.east_m - east, at.north_m - north) / radius;
    return height / (1.0 + std::pow(off, 6.0));
}

ground::Surface surface(double hollow_radius_m) {
    ground::Drive how;
    how.length_m = 500.0;
    how.breadth_m = 400.0;
    how.noise_m = 0.05;
    how.height = [=](const ground::Point& at) {
        const double slope = 150.0 + 0.02 * at.east_m - 0.01 * at.north_m;
        return hollow_radius_m <= 0.0 ? slope
                                      : slope + bump(at, -90.0, 40.0, 60.0, 1.8) +
                                            bump(at, 90.0, 60.0, hollow_radius_m, -1.5);
    };
    auto made = ground::surface_of(ground::driven(how));
    EXPECT_TRUE(made.ok());
    return std::move(made.value());
}

ZonesAnswer zones(const ledger::Season& season, const ground::Surface& ground) {
    auto answer = ask_zones(season, ground, {.field = "Hollow Oak"});
    EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.problems().front().text());
    return answer.ok() ? std::move(answer.value()) : ZonesAnswer{};
}

/// A season in which switching takes no time.
ledger::Season with_quick_switches() {
    auto season = demo();
    season.replacements.push_back({"ground.switch_time", 0.001, 0.0005, 0.002, "a test"});
    return season;
}

TEST(Zones, AFlatFieldIsOneZoneAndSaysWhy) {
    const auto answer = zones(demo(), surface(0.0));
    ASSERT_EQ(answer.zones.size(), 1U);
    EXPECT_TRUE(answer.left_out.empty());
    EXPECT_TRUE(answer.lanes.transitions.empty());
    EXPECT_NEAR(answer.known.si(), 200'000.0, 6'000.0);
    EXPECT_EQ(answer.reason, ZonesReason::none_stands_out);
    EXPECT_LT(answer.most_relief, answer.least_relief);
}

TEST(Zones, EachPieceOfGroundIsAZoneOrSaysWhyNot) {
    const auto answer = zones(demo(), surface(60.0));
    EXPECT_EQ(answer.zones.size() - 1 + answer.left_out.size(), 2U);
    for (const auto& zone : answer.left_out) {
        EXPECT_FALSE(zone.why.empty());
        EXPECT_EQ(zone.number, 0);
    }
    double area = 0.0;
    for (const auto& zone : answer.zones) {
        EXPECT_TRUE(zone.why.empty());
        area += zone.area.si();
    }
    EXPECT_NEAR(area, answer.known.si(), 1e-6);
}

// The less time a switch takes, the more zones pay, and the more all of them gain.
TEST(Zones, CheaperSwitchingNeverGainsLess) {
    const auto ground = surface(60.0);
    const auto as_is = zones(demo(), ground);
    const auto quick = zones(with_quick_switches(), ground);
    EXPECT_GE(quick.zones.size(), as_is.zones.size());
    EXPECT_GE(quick.gain.value.si(), as_is.gain.value.si());
    ASSERT_GT(quick.zones.size(), 1U);
    EXPECT_GT(quick.gain.value.si(), 0.0);
}

TEST(Zones, ZonesGoByTheirGainAndSwitchesAreThoseOfTheLanes) {
    const auto answer = zones(with_quick_switches(), surface(60.0));
    for (std::size_t i = 2; i < answer.zones.size(); ++i) {
        EXPECT_GE(answer.zones[i - 1].gain.value, answer.zones[i].gain.value);
    }
    for (const auto& zone : answer.zones) {
        if (zone.number > 1) {
            const auto switches = std::ranges::count_if(
                answer.lanes.transitions, [&](const ground::Transition& transition) {
                    return transition.from == zone.number || transition.to == zone.number;
                });
            EXPECT_EQ(static_cast<std::size_t>(switches), zone.switches);
            EXPECT_GT(zone.chance_better, 0.5);
        }
    }
}

// Common practice, no source: on knolls the leaf remover goes higher; on low wet ground the bed
// goes higher and cleaning is more.
TEST(Zones, KnollsAndHollowsAreSetAsTheTradeSetsThem) {
    const auto answer = zones(demo(), surface(60.0));
    const auto on = [&](Lie lie) {
        return *std::ranges::find(answer.settings, lie, &LieSettings::lie);
    };
    const auto at_large = on(Lie::level).settings;
    EXPECT_GE(*on(Lie::knoll).settings.find("leaf_remover.height"),
              *at_large.find("leaf_remover.height"));
    EXPECT_GT(*on(Lie::hollow).settings.find("roller_bed.height"),
              *at_large.find("roller_bed.height"));
    EXPECT_GE(*on(Lie::hollow).settings.find("roller_bed.speed"),
              *at_large.find("roller_bed.speed"));
}

TEST(Zones, NothingIsSwitchedThatWantsAStop) {
    const auto answer = zones(demo(), surface(60.0));
    for (const auto& settings : answer.settings) {
        if (settings.lie != Lie::level) {
            for (const auto& control : settings.controls) {
                EXPECT_TRUE(harvester::is_set_from_the_seat(control.kind)) << control.id();
            }
        }
    }
}

TEST(Zones, LotsOfConditionsSpreadAsTheCatalogueSays) {
    harvester::Conditions field;
    field.crowns.mean = Length(0.05);
    field.roots.mean_mass = CleanMass(0.9);
    const Catalogue catalogue;
    const auto beliefs = lie_beliefs({}, "", surface(0.0), {}, catalogue);
    double crowns = 0.0;
    double wetter = 0.0;
    for (const auto& lot : conditions_on(Lie::knoll, field, beliefs)) {
        EXPECT_GT(lot.crowns.mean, field.crowns.mean);
        crowns += std::log((lot.crowns.mean - field.crowns.mean).si()) / kLieLots;
    }
    // The median of a lognormal is the mean of its logarithms.
    EXPECT_NEAR(std::exp(crowns), catalogue.value(ConstantId::ground_knoll_crowns), 1e-6);
    for (const auto& lot : conditions_on(Lie::hollow, field, beliefs)) {
        wetter += lot.soil.feel == harvester::SoilFeel::plastic ? 1.0 / kLieLots : 0.0;
    }
    EXPECT_NEAR(wetter, catalogue.value(ConstantId::ground_hollow_wetter), 0.5 / kLieLots + 1e-9);
}

TEST(Zones, AMachineOfNoWidthAsksForOne) {
    auto season = demo();
    for (auto& machine : season.machines) {
        machine.row_spacing = Length(std::nan(""));
    }
    const auto answer = ask_zones(season, surface(0.0), {.field = "Hollow Oak"});
    ASSERT_FALSE(answer.ok());
    EXPECT_EQ(answer.problems().front().where.field, "width");
    const auto given =
        ask_zones(season, surface(0.0), {.field = "Hollow Oak", .width = Length(2.7)});
    EXPECT_TRUE(given.ok());
}

}  // namespace
}  // namespace beetwright::engine
