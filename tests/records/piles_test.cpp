// Piles with their fans, and what was seen of them, in the season file.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>

#include "ledger/evidence.hpp"
#include "records/older_versions.hpp"
#include "records/season_file.hpp"
#include "season_equal.hpp"

namespace beetwright::records {
namespace {

namespace fs = std::filesystem;
using check::PileCover;
using ledger::DestinationKind;

class PilesFile : public ::testing::Test {
 protected:
    void SetUp() override {
        fs::remove_all(folder_);
        fs::create_directories(folder_);
    }
    void TearDown() override { fs::remove_all(folder_); }

    static Instant at(int hour) { return Instant(std::chrono::hours(540'000 + hour)); }
    static Uuid id(int number) {
        return Uuid::version7(at(number), 1, static_cast<std::uint64_t>(number));
    }
    static check::Stretch metres(double from, double to) { return {Length(from), Length(to)}; }

    static ledger::PileSite yard() {
        ledger::PileSite site;
        site.name = "Yard";
        site.base_width = Length(8.13);
        site.top_width = Length(1.01);
        site.height = Length(3.07);
        site.length = Length(60.2);
        site.orientation_rad = 1.234;
        site.ground = ledger::PileGround::gravel;
        site.built = ledger::PileBuilding::in_layers;
        ledger::Fan cooling;
        cooling.stretch = metres(5.1, 50.3);
        cooling.flow = VolumePerTime(5.55);
        cooling.pressure = Pressure(311.0);
        cooling.power = Power(5432.0);
        cooling.rule = ledger::FanRule::difference;
        cooling.difference = TemperatureDifference(2.3);
        cooling.not_below = Temperature::celsius(-0.7);
        ledger::Fan freezing;
        freezing.flow = VolumePerTime(2.1);
        freezing.rule = ledger::FanRule::freeze;
        freezing.only_below = Temperature::celsius(-12.1);
        site.fans = {cooling, freezing};
        return site;
    }
    static ledger::Season season() {
        ledger::Season s;
        s.name = "Trial";
        s.currency = "EUR";
        ledger::Field field;
        field.name = "Long Acre";
        field.area = 8.0 * unit::ha;
        s.fields = {field};
        s.destinations = {{.name = "Yard", .kind = DestinationKind::pile, .temperatures = {}},
                          {.name = "Heap", .kind = DestinationKind::pile, .temperatures = {}},
                          {.name = "Works", .kind = DestinationKind::factory, .temperatures = {}}};
        ledger::PileSite heap;
        heap.name = "Heap";
        heap.base_width = Length(6.0);
        heap.top_width = Length::zero();
        heap.height = Length(2.5);
        heap.length = Length(40.0);
        s.piles = {yard(), heap};
        ledger::Load load;
        load.id = id(1);
        load.field = "Long Acre";
        load.at = at(1);
        load.destination = "Yard";
        load.gross = MassWithSoil(25'100.0);
        load.stretch = metres(0.0, 4.3);
        s.loads = {load};
        s.covers = {{.id = id(2),
                     .supersedes = {},
                     .pile = "Yard",
                     .at = at(2),
                     .stretch = {Length(), Length(41.7)},
                     .cover = PileCover::fleece},
                    {.id = id(3),
                     .supersedes = {},
                     .pile = "Heap",
                     .at = at(3),
                     .stretch = {},
                     .cover = PileCover::strips}};
        s.probes = {{.id = id(4),
                     .supersedes = {},
                     .pile = "Yard",
                     .at = at(4),
                     .probe = "7",
                     .kind = check::ProbeKind::logger,
                     .along = Length(31.2),
                     .across = Length(-1.3),
                     .height = Length(1.1),
                     .temperature = Temperature::celsius(5.37)}};
        s.removals = {{.id = id(5),
                       .supersedes = {},
                       .pile = "Yard",
                       .at = at(5),
                       .stretch = metres(0.0, 12.4),
                       .gross = MassWithSoil(181'300.0)},
                      {.id = id(6),
                       .supersedes = {},
                       .pile = "Heap",
                       .at = at(6),
                       .stretch = {},
                       .gross = {}}};
        return s;
    }
    static void take_log(ledger::Season& from, ledger::Season& into) {
        into.covers = std::exchange(from.covers, {});
        into.probes = std::exchange(from.probes, {});
        into.removals = std::exchange(from.removals, {});
    }
    static Submission sent(ledger::Season observations) {
        return {.observations = std::move(observations), .by = "Anna", .at = at(100)};
    }
    static AuditEntry somebody() {
        return {.at = at(1), .person = {}, .what = "season", .about = "piles.csv"};
    }

    [[nodiscard]] std::string path() const { return (folder_ / "season.beet").string(); }
    [[nodiscard]] Result<ImportReport> import(const ledger::Season& of) const {
        return SeasonFile::open(path(), OpenMode::create).value().import(of);
    }
    [[nodiscard]] SeasonFile open() const {
        return SeasonFile::open(path(), OpenMode::existing).value();
    }
    [[nodiscard]] ledger::Season load() const {
        return SeasonFile::open(path(), OpenMode::read_only).value().load().value();
    }
    [[nodiscard]] std::int64_t count(const char* table) const {
        return *Database::open(path(), Access::read)
                    ->integer(std::string("SELECT count(*) FROM ") + table);
    }
    static void expect_refused(const Result<ImportReport>& refused, const char* words) {
        ASSERT_FALSE(refused.ok()) << words;
        std::string all;
        for (const auto& problem : refused.problems()) {
            all += problem.text() + '\n';
        }
        EXPECT_NE(all.find(words), std::string::npos) << words << " in\n" << all;
    }

    fs::path folder_ = fs::temp_directory_path() / ("beetwright_piles_" + std::to_string(getpid()));
};

TEST_F(PilesFile, GivesBackWhatWasImportedAndKnowsItAgain) {
    ASSERT_TRUE(import(season()).ok());
    expect_equal_seasons(season(), load());
    const auto again = import(season());
    ASSERT_TRUE(again.ok());
    const auto known = [&](const std::string& what) {
        const auto row = std::ranges::find(again->rows, what, &ImportReport::Row::what);
        return row == again->rows.end() ? -1 : row->known;
    };
    EXPECT_EQ(known("weighed loads"), 1);
    EXPECT_EQ(known("covers put on and off"), 2);
    EXPECT_EQ(known("temperatures of piles"), 1);
    EXPECT_EQ(known("removals from piles"), 2);
    EXPECT_EQ(count("fans"), 2);
    const auto ids = SeasonFile::open(path(), OpenMode::read_only).value().known_ids().value();
    EXPECT_EQ(ids[static_cast<std::size_t>(io::Observed::cover)].size(), 2U);
    EXPECT_EQ(ids[static_cast<std::size_t>(io::Observed::probe)], std::vector<Uuid>{id(4)});
    EXPECT_EQ(ids[static_cast<std::size_t>(io::Observed::removal)].size(), 2U);
}

TEST_F(PilesFile, AFileOfVersionNineIsBroughtUpToDate) {
    const auto before = before_version_10(season());
    ASSERT_TRUE(import(before).ok());
    ASSERT_TRUE(take_back_to(9, path()).ok());
    EXPECT_FALSE(SeasonFile::open(path(), OpenMode::read_only).ok());
    ASSERT_TRUE(SeasonFile::open(path(), OpenMode::existing).ok());
    expect_equal_seasons(before, load());
    // What it holds is known again: a load that says nothing new is the same load.
    const auto again = import(before);
    ASSERT_TRUE(again.ok());
    EXPECT_EQ(again->rows.front().known, 1);
    auto more = season();
    more.loads = before.loads;
    ASSERT_TRUE(import(more).ok());
    expect_equal_seasons(more, load());
}

TEST_F(PilesFile, TakesTheNewestWordAndKeepsWhatItLeavesOut) {
    ASSERT_TRUE(import(season()).ok());
    auto changed = season();
    changed.piles[0].length = Length(75.0);
    changed.piles[0].built.reset();
    changed.piles[0].fans.pop_back();
    changed.piles[0].fans[0].flow = VolumePerTime(6.0);
    ASSERT_TRUE(import(changed).ok());
    expect_equal_seasons(changed, load());
    // A folder without piles.csv and fans.csv says nothing of them.
    auto silent = season();
    silent.piles.clear();
    ASSERT_TRUE(import(silent).ok());
    expect_equal_seasons(changed, load());
}

TEST_F(PilesFile, WhatIsSetTakesThePlaceOfAll) {
    ASSERT_TRUE(import(season()).ok());
    auto changed = season();
    changed.piles.pop_back();
    changed.piles[0].fans.clear();
    ASSERT_TRUE(open().set(changed, somebody()).ok());
    expect_equal_seasons(changed, load());
    EXPECT_EQ(count("fans"), 0);
}

TEST_F(PilesFile, AnImportThatContradictsAnEarlierOneIsRefused) {
    ASSERT_TRUE(import(season()).ok());
    const auto refused_with = [&](const char* words, auto&& change) {
        auto other = season();
        ledger::Season log;
        take_log(other, log);
        other.loads.clear();
        change(other);
        expect_refused(import(other), words);
        expect_equal_seasons(season(), load());
    };
    const auto shorter = [](double metres) {
        return [metres](ledger::Season& s) {
            s.piles[0].length = Length(metres);
            s.piles[0].fans.clear();
        };
    };
    refused_with("probes.csv, along: with what was imported before, of \"Yard\": 31.2 m (102.4 ft)",
                 shorter(30.0));
    refused_with("covers.csv, to: with what was imported before", shorter(30.0));
    refused_with("fans.csv, to: with what was imported before", shorter(30.0));
    refused_with("removals.csv, to: with what was imported before", shorter(10.0));
    refused_with("loads.csv, along_to: with what was imported before", shorter(4.0));
    refused_with("probes.csv, height", [](ledger::Season& s) { s.piles[0].height = Length(0.7); });
    refused_with("\"Heap\" was a pile, of which more is known, and is a factory now",
                 [](ledger::Season& s) {
                     s.piles.pop_back();
                     s.destinations[1].kind = DestinationKind::factory;
                 });
}

TEST_F(PilesFile, AnythingEditedIsRefused) {
    ASSERT_TRUE(import(season()).ok());
    const auto refused_in = [&](const char* words, auto&& edit) {
        auto edited = season();
        edit(edited);
        expect_refused(import(edited), words);
        expect_equal_seasons(season(), load());
    };
    using Season = ledger::Season;
    refused_in("this load was imported before as",
               [](Season& s) { s.loads[0].stretch.to = Length(5.0); });
    refused_in("other content: along_to", [](Season& s) { s.loads[0].stretch.to = Length(5.0); });
    refused_in("this cover was imported before as",
               [](Season& s) { s.covers[0].cover = PileCover::plastic; });
    refused_in("other content: to", [](Season& s) { s.covers[0].stretch.to = Length(50.0); });
    refused_in("other content: pile", [](Season& s) { s.covers[1].pile = "Yard"; });
    refused_in("this temperature of a pile was imported before as",
               [](Season& s) { s.probes[0].temperature = Temperature::celsius(5.5); });
    refused_in("other content: kind",
               [](Season& s) { s.probes[0].kind = check::ProbeKind::lance; });
    refused_in("other content: across", [](Season& s) { s.probes[0].across = Length(1.3); });
    refused_in("other content: probe", [](Season& s) { s.probes[0].probe = "8"; });
    refused_in("this removal from a pile was imported before as",
               [](Season& s) { s.removals[0].gross = MassWithSoil(180'000.0); });
    refused_in("other content: at", [](Season& s) { s.removals[1].at = at(8); });
}

TEST_F(PilesFile, TakesWhatIsSentOnceAndSaysFromWhom) {
    auto before = season();
    ledger::Season log;
    take_log(before, log);
    ASSERT_TRUE(import(before).ok());
    auto file = open();
    const std::vector<Submission> twice{sent(log), sent(log)};
    const auto appended = file.append(twice);
    EXPECT_EQ(appended.receipts[0].value().fresh.size(), 5U);
    EXPECT_EQ(appended.receipts[1].value().known, 5);
    EXPECT_EQ(file.received().value().size(), 5U);
    expect_equal_seasons(season(), load());

    ledger::Season edited;
    edited.probes = log.probes;
    edited.probes[0].temperature = Temperature::celsius(9.0);
    const std::vector<Submission> contradiction{sent(edited)};
    EXPECT_FALSE(file.append(contradiction).receipts[0].ok());
    expect_equal_seasons(season(), load());
}

TEST_F(PilesFile, ACorrectionCountsInItsPlaceAndOnlyOnce) {
    ASSERT_TRUE(import(season()).ok());
    auto file = open();
    ledger::Season correction;
    correction.probes = season().probes;
    correction.probes[0].supersedes = correction.probes[0].id;
    correction.probes[0].id = id(50);
    correction.probes[0].temperature = Temperature::celsius(6.0);
    const std::vector<Submission> first{sent(correction)};
    ASSERT_TRUE(file.append(first).receipts[0].ok());
    const auto counts = ledger::without_superseded(load());
    ASSERT_EQ(counts.probes.size(), 1U);
    EXPECT_EQ(counts.probes[0].temperature, Temperature::celsius(6.0));
    correction.probes[0].id = id(51);
    const std::vector<Submission> second{sent(correction)};
    const auto refused = file.append(second);
    ASSERT_FALSE(refused.receipts[0].ok());
    EXPECT_NE(refused.receipts[0].problems()[0].text().find("both would count"), std::string::npos);
}

TEST_F(PilesFile, ShapeAndFansFollowTheirDestination) {
    auto unseen = season();
    ledger::Season log;
    take_log(unseen, log);
    unseen.loads.clear();
    ASSERT_TRUE(import(unseen).ok());
    auto file = open();
    ASSERT_TRUE(file.rename(io::Master::destinations, "Yard", "Old Yard", somebody()).ok());
    auto renamed = unseen;
    renamed.destinations[0].name = "Old Yard";
    renamed.piles[0].name = "Old Yard";
    expect_equal_seasons(renamed, load());
    ASSERT_TRUE(file.remove(io::Master::destinations, "Old Yard", somebody()).ok());
    EXPECT_EQ(count("piles"), 1);
    EXPECT_EQ(count("fans"), 0);
}

TEST_F(PilesFile, APileThatWasSeenKeepsItsName) {
    ASSERT_TRUE(import(season()).ok());
    auto file = open();
    const auto removed = file.remove(io::Master::destinations, "Yard", somebody());
    ASSERT_FALSE(removed.ok());
    EXPECT_NE(
        removed.problems()[0].text().find("1 load, 1 cover, 1 temperature of the pile, 1 removal"),
        std::string::npos)
        << removed.problems()[0].text();
    EXPECT_FALSE(file.rename(io::Master::destinations, "Heap", "Hill", somebody()).ok());
    EXPECT_TRUE(file.remove(io::Master::destinations, "Works", somebody()).ok());
}

}  // namespace
}  // namespace beetwright::records
