// Machines with their controls and dials, settings and new parts in the season file.
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
using check::Answer;
using harvester::MachineKind;

class MachinesFile : public ::testing::Test {
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

    static ledger::Season season() {
        ledger::Season s;
        s.name = "Trial";
        s.currency = "EUR";
        for (const char* name : {"Long Acre", "Mill Field"}) {
            ledger::Field field;
            field.name = name;
            field.area = 8.0 * unit::ha;
            s.fields.push_back(field);
        }
        s.machines = {old_six(),
                      ledger::Machine{.name = "New Nine", .kind = "", .row_spacing = {}}};
        check::SettingsNote note;
        note.id = id(1);
        note.machine = "Old Six";
        note.field = "Long Acre";
        note.at = at(1);
        note.answer = Answer::other;
        note.controls = {{"share.depth", 0.0813}, {"turbine_2.guard", 0.0}};
        check::SettingsNote declined;
        declined.id = id(2);
        declined.machine = "Old Six";
        declined.at = at(2);
        declined.answer = Answer::declined;
        s.settings = {note, declined};
        s.parts = {{.id = id(3),
                    .supersedes = {},
                    .machine = "Old Six",
                    .at = at(3),
                    .stage = check::MachineStage::lifting_shares,
                    .what = "new points"}};
        return s;
    }
    static ledger::Machine old_six() {
        ledger::Machine machine;
        machine.name = "Old Six";
        machine.rows = 6;
        machine.build = MachineKind::six_row_turbines;
        machine.hour_cost = 311.7 * unit::money_per_hour;
        ledger::OwnControl depth;
        depth.control = "share.depth";
        depth.least = 0.0457;
        depth.most = 0.1103;
        depth.display_step = 0.5;
        ledger::DialPoint first;
        first.shown = 1.0;
        first.actual = 0.0511;
        first.measured = Day(std::chrono::year{2031} / 9 / 12);
        ledger::DialPoint second;
        second.shown = 6.5;
        second.actual = 0.1009;
        depth.dial = {first, second};
        ledger::OwnControl turbine;
        turbine.control = "turbine_3.speed";
        turbine.fitted = false;
        ledger::OwnControl guard;
        guard.control = "turbine_2.guard";
        guard.hands_off = true;
        guard.usual = 0.0;
        machine.controls = {turbine, depth, guard};
        return machine;
    }
    static Submission sent(ledger::Season observations) {
        return {.observations = std::move(observations), .by = "Anna", .at = at(100)};
    }
    static Submission sent(check::SettingsNote note) {
        ledger::Season observations;
        observations.settings = {std::move(note)};
        return sent(std::move(observations));
    }
    static AuditEntry somebody() {
        return {.at = at(1), .person = {}, .what = "season", .about = "machines.csv"};
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

    fs::path folder_ =
        fs::temp_directory_path() / ("beetwright_machines_" + std::to_string(getpid()));
};

TEST_F(MachinesFile, GivesBackWhatWasImportedAndKnowsItAgain) {
    ASSERT_TRUE(import(season()).ok());
    expect_equal_seasons(season(), load());
    const auto again = import(season());
    ASSERT_TRUE(again.ok());
    const auto known_rows = [&](const std::string& what) {
        const auto row = std::ranges::find(again->rows, what, &ImportReport::Row::what);
        return row == again->rows.end() ? -1 : row->known;
    };
    EXPECT_EQ(known_rows("notes of settings"), 2);
    EXPECT_EQ(known_rows("new parts and repairs"), 1);
    EXPECT_EQ(count("set_controls"), 2);
    EXPECT_EQ(count("dial_points"), 2);
    const auto known = SeasonFile::open(path(), OpenMode::read_only).value().known_ids().value();
    EXPECT_EQ(known[static_cast<std::size_t>(io::Observed::settings)].size(), 2U);
    EXPECT_EQ(known[static_cast<std::size_t>(io::Observed::part)].size(), 1U);
}

TEST_F(MachinesFile, AFileOfVersionEightIsBroughtUpToDate) {
    const auto before = before_version_9(season());
    ASSERT_TRUE(import(before).ok());
    ASSERT_TRUE(take_back_to(8, path()).ok());
    EXPECT_FALSE(SeasonFile::open(path(), OpenMode::read_only).ok());
    ASSERT_TRUE(SeasonFile::open(path(), OpenMode::existing).ok());
    expect_equal_seasons(before, load());
    ASSERT_TRUE(import(season()).ok());
    expect_equal_seasons(season(), load());
}

TEST_F(MachinesFile, TakesTheNewestWordAndKeepsWhatItLeavesOut) {
    ASSERT_TRUE(import(season()).ok());
    auto changed = season();
    auto& controls = changed.machines[0].controls;
    controls[1].most = 0.1205;
    controls[1].dial.pop_back();
    controls[1].dial.push_back({{5.0, 0.0911}, {}});
    controls[1].dial.push_back({{7.0, 0.1102}, {}});
    ASSERT_TRUE(import(changed).ok());
    expect_equal_seasons(changed, load());
    // A folder without controls.csv and dials.csv says nothing of them.
    auto silent = season();
    silent.machines[0].controls.clear();
    ASSERT_TRUE(import(silent).ok());
    expect_equal_seasons(changed, load());
}

TEST_F(MachinesFile, WhatIsSetTakesThePlaceOfAll) {
    ASSERT_TRUE(import(season()).ok());
    auto changed = season();
    changed.machines[0].controls.erase(changed.machines[0].controls.begin());
    ASSERT_TRUE(open().set(changed, somebody()).ok());
    expect_equal_seasons(changed, load());
}

TEST_F(MachinesFile, AnImportThatContradictsAnEarlierOneIsRefused) {
    ASSERT_TRUE(import(season()).ok());
    auto other_build = season();
    other_build.machines[0].build = MachineKind::six_row_axial_rolls;
    other_build.machines[0].controls.clear();
    other_build.settings.clear();
    expect_refused(import(other_build), "have no turbine_3.speed");

    auto no_build = other_build;
    no_build.machines[0].build.reset();
    expect_refused(import(no_build), "has no build");

    auto narrow = season();
    narrow.machines[0].controls = {narrow.machines[0].controls[1]};
    narrow.machines[0].controls[0].dial.clear();
    narrow.machines[0].controls[0].most = 0.090;
    narrow.settings.clear();
    expect_refused(import(narrow), "dials.csv, share.depth: with what was imported before");

    auto shallow = season();
    shallow.machines[0].controls[1].most = 0.080;
    shallow.machines[0].controls[1].dial[1].actual = 0.079;
    shallow.settings.clear();
    expect_refused(import(shallow),
                   "settings.csv, value: with what was imported before, of \"Old "
                   "Six\": 81.3 mm is outside");
    expect_equal_seasons(season(), load());
}

TEST_F(MachinesFile, SettingsOutliveNoBuild) {
    auto bare = season();
    bare.machines[0].controls.clear();
    bare.settings[0].controls = {{"share.depth", 0.08}};
    ASSERT_TRUE(import(bare).ok());
    auto no_build = bare;
    no_build.machines[0].build.reset();
    no_build.settings.clear();
    expect_refused(import(no_build), "its build is not said any more");
}

TEST_F(MachinesFile, AnythingEditedIsRefused) {
    ASSERT_TRUE(import(season()).ok());
    const auto refused_in = [&](const char* words, auto&& edit) {
        auto edited = season();
        edit(edited);
        expect_refused(import(edited), words);
        expect_equal_seasons(season(), load());
    };
    const auto note = [](auto&& edit) {
        return [edit](ledger::Season& s) { edit(s.settings[0]); };
    };
    using Note = check::SettingsNote;
    refused_in("this note of settings was imported before as",
               note([](Note& n) { n.controls.pop_back(); }));
    refused_in("other content: controls", note([](Note& n) { n.controls[0].value = 0.082; }));
    refused_in("other content: field", note([](Note& n) { n.field = "Mill Field"; }));
    refused_in("other content: answer", note([](Note& n) { n.answer = Answer::accepted; }));
    refused_in("other content: at", note([](Note& n) { n.at = at(5); }));
    refused_in("other content: machine", [](ledger::Season& s) {
        s.machines[1].build = MachineKind::six_row_turbines;
        s.settings[0].machine = "New Nine";
    });
    const auto part = [](auto&& edit) { return [edit](ledger::Season& s) { edit(s.parts[0]); }; };
    using Part = check::PartChange;
    refused_in("this new part or repair was imported before as",
               part([](Part& p) { p.what = "new shares"; }));
    refused_in("other content: stage",
               part([](Part& p) { p.stage = check::MachineStage::scalper; }));
    refused_in("other content: machine", part([](Part& p) { p.machine = "New Nine"; }));
}

TEST_F(MachinesFile, TakesWhatIsSentOnceAndSaysFromWhom) {
    auto before = season();
    ledger::Season log;
    log.settings = before.settings;
    log.parts = before.parts;
    before.settings.clear();
    before.parts.clear();
    ASSERT_TRUE(import(before).ok());
    auto file = open();
    const std::vector<Submission> twice{sent(log), sent(log)};
    const auto appended = file.append(twice);
    EXPECT_EQ(appended.receipts[0].value().fresh.size(), 3U);
    EXPECT_EQ(appended.receipts[1].value().known, 3);
    EXPECT_EQ(file.received().value().size(), 3U);
    expect_equal_seasons(season(), load());

    auto edited = log.settings[0];
    edited.controls[0].value = 0.09;
    const std::vector<Submission> contradiction{sent(edited)};
    EXPECT_FALSE(file.append(contradiction).receipts[0].ok());
    expect_equal_seasons(season(), load());
}

TEST_F(MachinesFile, ACorrectionCountsInItsPlaceAndOnlyOnce) {
    ASSERT_TRUE(import(season()).ok());
    auto file = open();
    auto correction = season().settings[0];
    correction.supersedes = correction.id;
    correction.id = id(50);
    correction.controls[0].value = 0.09;
    const std::vector<Submission> first{sent(correction)};
    ASSERT_TRUE(file.append(first).receipts[0].ok());
    const auto counts = ledger::without_superseded(load());
    ASSERT_EQ(counts.settings.size(), 2U);
    EXPECT_EQ(counts.settings.back().controls[0].value, 0.09);
    correction.id = id(51);
    const std::vector<Submission> second{sent(correction)};
    const auto refused = file.append(second);
    ASSERT_FALSE(refused.receipts[0].ok());
    EXPECT_NE(refused.receipts[0].problems()[0].text().find("both would count"), std::string::npos);
}

TEST_F(MachinesFile, ControlsFollowTheirMachine) {
    auto unused = season();
    unused.settings.clear();
    unused.parts.clear();
    ASSERT_TRUE(import(unused).ok());
    auto file = open();
    ASSERT_TRUE(file.rename(io::Master::machines, "Old Six", "Older Six", somebody()).ok());
    auto renamed = unused;
    renamed.machines[0].name = "Older Six";
    expect_equal_seasons(renamed, load());
    ASSERT_TRUE(file.remove(io::Master::machines, "Older Six", somebody()).ok());
    EXPECT_EQ(count("controls"), 0);
    EXPECT_EQ(count("dial_points"), 0);
    EXPECT_EQ(load().machines.size(), 1U);
}

TEST_F(MachinesFile, AMachineWithALogKeepsItsName) {
    ASSERT_TRUE(import(season()).ok());
    auto file = open();
    const auto removed = file.remove(io::Master::machines, "Old Six", somebody());
    ASSERT_FALSE(removed.ok());
    EXPECT_NE(removed.problems()[0].text().find("2 notes of settings, 1 new part or repair"),
              std::string::npos)
        << removed.problems()[0].text();
    EXPECT_FALSE(file.rename(io::Master::machines, "Old Six", "Older Six", somebody()).ok());
    EXPECT_FALSE(file.remove(io::Master::fields, "Long Acre", somebody()).ok());
    EXPECT_TRUE(file.remove(io::Master::fields, "Mill Field", somebody()).ok());
}

}  // namespace
}  // namespace beetwright::records
