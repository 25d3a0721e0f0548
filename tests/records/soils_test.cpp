// Soils and wheels in the season file.
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>

#include "records/older_versions.hpp"
#include "records/season_file.hpp"
#include "season_equal.hpp"

namespace beetwright::records {
namespace {

namespace fs = std::filesystem;

class SoilsFile : public ::testing::Test {
 protected:
    void SetUp() override {
        fs::remove_all(folder_);
        fs::create_directories(folder_);
    }
    void TearDown() override { fs::remove_all(folder_); }

    static ledger::Season season() {
        ledger::Season s;
        s.name = "Trial";
        s.currency = "EUR";
        ledger::Field field;
        field.name = "Long Acre";
        field.area = 8.0 * unit::ha;
        field.soil = "marsh";
        s.fields = {field};
        ledger::Machine machine;
        machine.name = "Old Six";
        machine.heaviest_wheel = {Mass(9511.0), Pressure(221'000.0), Length(0.803), Length(1.91)};
        ledger::Machine other;
        other.name = "New Six";
        s.machines = {machine, other};
        ledger::SoilRules marsh;
        marsh.name = "marsh";
        marsh.soil_class = weather::SoilClass::silty_clay;
        marsh.holds = Length(0.051);
        marsh.stop_filling = 0.87;
        marsh.drains_to = 0.81;
        marsh.drain_lag = 60.0 * unit::hour;
        marsh.rain_stop = Length(0.0021);
        ledger::SoilRules hill;
        hill.name = "hill";
        s.soils = {marsh, hill};
        return s;
    }
    [[nodiscard]] std::string path() const { return (folder_ / "season.beet").string(); }
    [[nodiscard]] bool import(const ledger::Season& of) const {
        return SeasonFile::open(path(), OpenMode::create).value().import(of).ok();
    }
    [[nodiscard]] ledger::Season load() const {
        return SeasonFile::open(path(), OpenMode::read_only).value().load().value();
    }

    fs::path folder_ = fs::temp_directory_path() / ("beetwright_soils_" + std::to_string(getpid()));
};

TEST_F(SoilsFile, GivesBackWhatWasImportedAndTakesTheNewestWord) {
    ASSERT_TRUE(import(season()));
    expect_equal_seasons(season(), load());
    auto changed = season();
    changed.soils[0].soil_class.reset();
    changed.soils[0].holds = Length();
    changed.soils[1].rain_stop = Length(0.004);
    changed.machines[0].heaviest_wheel = {};
    changed.machines[1].heaviest_wheel.load = Mass(8000.0);
    ASSERT_TRUE(import(changed));
    expect_equal_seasons(changed, load());
}

TEST_F(SoilsFile, MachinesOfVersionSixHaveWheelsNobodyKnows) {
    ASSERT_TRUE(import(season()));
    ASSERT_TRUE(take_back_to(6, path()).ok());
    ASSERT_TRUE(SeasonFile::open(path(), OpenMode::existing).ok());
    expect_equal_seasons(before_version_7(season()), load());
}

TEST_F(SoilsFile, FieldsFollowANewNameAndHoldASoilTheyName) {
    ASSERT_TRUE(import(season()));
    auto file = SeasonFile::open(path(), OpenMode::existing).value();
    const AuditEntry by{.at = {}, .person = {}, .what = "season", .about = "soils.csv"};
    ASSERT_TRUE(file.rename(io::Master::soils, "marsh", "wet end", by).ok());
    EXPECT_EQ(load().soils[0].name, "wet end");
    EXPECT_EQ(load().fields[0].soil, "wet end");
    const auto taken = file.rename(io::Master::soils, "wet end", "hill", by);
    ASSERT_FALSE(taken.ok());
    EXPECT_NE(taken.problems()[0].text().find("is the name of another soil"), std::string::npos);
    const auto named = file.remove(io::Master::soils, "wet end", by);
    ASSERT_FALSE(named.ok());
    EXPECT_NE(named.problems()[0].text().find("is named by 1 field"), std::string::npos);
    EXPECT_TRUE(file.remove(io::Master::soils, "hill", by).ok());
    EXPECT_EQ(load().soils.size(), 1U);
    EXPECT_FALSE(file.remove(io::Master::soils, "hill", by).ok());
}

}  // namespace
}  // namespace beetwright::records
