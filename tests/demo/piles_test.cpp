// The invented season's piles, as they are laid out and as they were seen.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <string>

#include "demo_season/invent.hpp"
#include "engine/pile_probes.hpp"
#include "io/season_folder.hpp"
#include "season_equal.hpp"

namespace beetwright::demo {
namespace {

Invented season_of(std::uint64_t seed, UnitSystem units = UnitSystem::metric) {
    return invent(seed, units, loss_physics(Catalogue{}));
}

const ledger::PileSite& pile_in(const ledger::Season& season, const std::string& name) {
    return *std::ranges::find(season.piles, name, &ledger::PileSite::name);
}

class DemoPiles : public ::testing::TestWithParam<UnitSystem> {};

// The spare length is 6 %, and widths, heights and lengths are rounded: by half a foot in 15 of
// height, 1 %, and less elsewhere.
TEST_P(DemoPiles, HoldWhatIsBroughtThere) {
    const auto invented = season_of(1, GetParam());
    const double piled_kg_m3 = Catalogue{}.value(ConstantId::pile_bulk_density);
    ASSERT_EQ(invented.season.piles.size(), 2U);
    for (const auto& pile : invented.season.piles) {
        double brought_kg = 0.0;
        for (std::size_t i = 0; i < invented.truth.size(); ++i) {
            const auto& field = invented.season.fields[i];
            brought_kg += field.destination == pile.name
                              ? (invented.truth[i].delivered() * field.area).si()
                              : 0.0;
        }
        const double holds_kg = (pile.section() * pile.length).si() * piled_kg_m3;
        EXPECT_NEAR(holds_kg / brought_kg, 1.06, 0.03) << pile.name;
        EXPECT_TRUE(ledger::problems_of(pile).empty());
    }
}

TEST_P(DemoPiles, AreReadAndWrittenWithoutAProblem) {
    const auto season = season_of(3, GetParam()).season;
    const auto read = io::read_season(io::write_season(season, GetParam()));
    ASSERT_TRUE(read.ok()) << read.problems().front().text();
    expect_equal_piles(season, *read);
    expect_equal_pile_logs(season, *read);
}

TEST_P(DemoPiles, LieOneLoadBehindTheOtherWhereBuiltFromOneEnd) {
    const auto season = season_of(2, GetParam()).season;
    std::map<std::string, Length> reached;
    for (const auto& load : season.loads) {
        const auto pile =
            std::ranges::find(season.piles, load.destination, &ledger::PileSite::name);
        const bool grows =
            pile != season.piles.end() && pile->built == ledger::PileBuilding::from_one_end;
        ASSERT_EQ(load.says_where(), grows) << load.ticket;
        if (grows) {
            const auto before = reached.try_emplace(pile->name, Length::zero()).first;
            EXPECT_EQ(load.stretch.from, before->second) << load.ticket;
            EXPECT_LT(load.stretch.from, load.stretch.to) << load.ticket;
            EXPECT_LE(load.stretch.to, pile->length);
            before->second = load.stretch.to;
        }
    }
    EXPECT_EQ(reached.size(), 1U);
}

INSTANTIATE_TEST_SUITE_P(Units, DemoPiles, ::testing::Values(UnitSystem::metric, UnitSystem::us));

TEST(DemoPileLog, CoversComeBeforeTheFrostAndGoAfterIt) {
    const auto invented = season_of(1);
    std::map<std::string, int> lying;
    for (const auto& change : invented.season.covers) {
        const bool puts_on = change.cover != check::PileCover::none;
        lying[change.pile] += puts_on ? 1 : -1;
        if (puts_on) {
            EXPECT_LT(change.at, Instant(kFrostBegins.on(kFirstDay)));
        } else {
            EXPECT_GE(change.at, Instant((kFrostEnds + 1).on(kFirstDay)));
        }
    }
    EXPECT_EQ(lying, (std::map<std::string, int>{{"Copse Road pile", 0}, {"Windmill pile", 0}}));
    // As frost goes: it is over when they go.
    EXPECT_GT(invented.weather.on(kFrostEnds + 2).mean_celsius, 0.0);
    EXPECT_LT(invented.weather.coldest_night_celsius(kFrostEnds), -3.5);
}

// Of a place the error has a standard deviation of 0.4 K, of a reading 0.3 K, and a pile's inside
// moves by 2 K a day at the most; 3 m inside its flank by 6 K, when a mild wind follows the frost.
TEST(DemoPileLog, ProbesFollowAPileOfThePhysics) {
    const auto season = season_of(1).season;
    // The lance finds beets at 4 m once the pile has grown that high.
    EXPECT_GT(season.probes.size(), 4U * 14U + 3U * 7U);
    EXPECT_LE(season.probes.size(), 4U * 14U + 6U * 7U);
    std::map<std::string, const check::ProbeReading*> last;
    for (const auto& reading : season.probes) {
        const auto& pile = pile_in(season, reading.pile);
        EXPECT_TRUE(ledger::problems_of(reading, pile).empty());
        EXPECT_LT(reading.at, Instant(kToldOn.on(kFirstDay)));
        EXPECT_GT(reading.temperature, Temperature::celsius(-4.0)) << "covered, or inside";
        EXPECT_LT(reading.temperature, Temperature::celsius(16.0)) << "well kept";
        const std::string place =
            reading.pile + reading.probe + std::to_string(reading.height.si());
        if (const auto* before = last[place]) {
            const double days =
                std::chrono::duration<double>(reading.at - before->at).count() / 86400.0;
            const double moved_K = std::abs((reading.temperature - before->temperature).si());
            const double a_day_K = std::abs(reading.across.si()) > 5.0 ? 6.0 : 2.0;
            EXPECT_LT(moved_K, a_day_K * days + 4.0 * 0.3 * std::numbers::sqrt2) << place;
        }
        last[place] = &reading;
    }
}

// What the program thinks of such piles agrees with what is read in this one: it believes each
// probe, and once it has learned from them it has what they say within its interval and what a
// probe may be off.
TEST(DemoPileLog, ProbesAreBelieved) {
    const auto season = season_of(1).season;
    WorkerPool pool(1);
    Steps steps(nullptr, 1.0);
    auto study = engine::PileStudy::make(
        season, {.pile = std::string(kBegunPile), .members = 16, .cell = Length(1.0)});
    ASSERT_TRUE(study.ok());
    const auto learned = engine::learn_from_probes(**study, pool, steps);
    ASSERT_TRUE(learned.ok());
    ASSERT_EQ(learned->probes.size(), 4U);
    for (const auto& probe : learned->probes) {
        EXPECT_TRUE(probe.is_trusted()) << probe.probe << ": " << probe.why;
        EXPECT_GT(probe.celsius, probe.after->low - 1.5) << probe.probe;
        EXPECT_LT(probe.celsius, probe.after->high + 1.5) << probe.probe;
        EXPECT_LT(probe.after->high - probe.after->low, probe.before->high - probe.before->low);
    }
}

TEST(DemoPileLog, HasOneRemoval) {
    const auto season = season_of(1).season;
    ASSERT_EQ(season.removals.size(), 1U);
    const auto& taken = season.removals[0];
    const auto& pile = pile_in(season, taken.pile);
    EXPECT_EQ(taken.stretch.from, Length::zero());
    const double kg_m3 = taken.gross.si() / (pile.section() * taken.stretch.to).si();
    EXPECT_GT(kg_m3, 650.0) << "with soil and tops";
    EXPECT_LT(kg_m3, 900.0);
}

TEST(DemoPileLog, ComesAgainFromItsSeed) {
    const auto one = season_of(7).season;
    const auto same = season_of(7).season;
    expect_equal_piles(one, same);
    expect_equal_pile_logs(one, same);
    EXPECT_NE(one.probes[0].temperature, season_of(8).season.probes[0].temperature);
}

}  // namespace
}  // namespace beetwright::demo
