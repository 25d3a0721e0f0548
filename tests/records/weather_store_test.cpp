// A season's weather in its file.
#include "records/weather_store.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>

#include "demo_season/invent.hpp"
#include "records/older_versions.hpp"
#include "records/season_file.hpp"
#include "season_equal.hpp"

namespace beetwright::records {
namespace {

namespace fs = std::filesystem;
using io::WeatherPart;

class WeatherStoreTest : public ::testing::Test {
 protected:
    void SetUp() override {
        const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
        folder_ = fs::temp_directory_path() /
                  ("beetwright_weather_" + std::string(test->name()) + std::to_string(getpid()));
        fs::remove_all(folder_);
        fs::create_directories(folder_);
    }
    void TearDown() override { fs::remove_all(folder_); }
    [[nodiscard]] std::string path() const { return (folder_ / "season.beet").string(); }

    static const ledger::Season& demo() {
        static const ledger::Season season =
            demo::invent(5, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
        return season;
    }
    [[nodiscard]] SeasonFile file_of(const ledger::Season& season) const {
        auto file = SeasonFile::open(path(), OpenMode::create);
        EXPECT_TRUE(file->import(season).ok());
        return std::move(*file);
    }
    static const AuditEntry& someone() {
        static const AuditEntry entry{.at = {}, .person = {}, .what = "set", .about = "weather"};
        return entry;
    }

    fs::path folder_;
};

TEST_F(WeatherStoreTest, GivesBackWhatWasImportedToTheLastBit) {
    auto season = demo();
    auto weather = *season.weather;
    weather.observed->filled = {0, 17, 2000};
    season.weather = std::make_shared<const weather::KnownWeather>(weather);
    const auto loaded = file_of(season).load();
    ASSERT_TRUE(loaded.ok());
    ASSERT_NE(loaded->weather, nullptr);
    expect_equal_weather(weather, *loaded->weather);
}

TEST_F(WeatherStoreTest, OfASeasonWithoutAnyIsNone) {
    auto season = demo();
    season.weather = nullptr;
    EXPECT_EQ(file_of(season).load()->weather, nullptr);
}

TEST_F(WeatherStoreTest, TakesAPartForAPart) {
    auto file = file_of(demo());
    weather::KnownWeather fewer;
    fewer.forecast.assign(demo().weather->forecast.begin(), demo().weather->forecast.begin() + 3);
    ASSERT_TRUE(file.set_weather(fewer, someone()).ok());
    auto loaded = file.load_with_revision();
    ASSERT_EQ(loaded->season.weather->forecast.size(), 3U);
    expect_equal_series(*loaded->season.weather->observed, *demo().weather->observed);
    EXPECT_EQ(loaded->weather_revision, loaded->revision);

    ASSERT_TRUE(file.remove_weather(WeatherPart::forecast, someone()).ok());
    loaded = file.load_with_revision();
    EXPECT_TRUE(loaded->season.weather->forecast.empty());
    EXPECT_EQ(loaded->weather_revision, loaded->revision);
    const auto again = file.remove_weather(WeatherPart::forecast, someone());
    ASSERT_FALSE(again.ok());
    EXPECT_EQ(again.problems().front().kind, ProblemKind::missing);
    EXPECT_EQ(file.load_with_revision()->revision, loaded->revision);
}

TEST_F(WeatherStoreTest, KeepsItsRevisionWhileOtherThingsChange) {
    auto file = file_of(demo());
    const auto first = file.load_with_revision();
    ASSERT_TRUE(file.set(first->season, someone()).ok());
    const auto second = file.load_with_revision();
    EXPECT_GT(second->revision, first->revision);
    EXPECT_EQ(second->weather_revision, first->weather_revision);
    expect_equal_weather(*second->season.weather, *demo().weather);
}

TEST_F(WeatherStoreTest, AnImportWithoutWeatherLeavesWhatIsThere) {
    auto file = file_of(demo());
    auto season = demo();
    season.weather = nullptr;
    ASSERT_TRUE(file.import(season).ok());
    EXPECT_NE(file.load()->weather, nullptr);
}

TEST_F(WeatherStoreTest, WhatWasDoneIsNotedWithIt) {
    auto file = file_of(demo());
    ASSERT_TRUE(file.remove_weather(WeatherPart::usual, someone()).ok());
    EXPECT_EQ(*Database::open(path(), Access::read)->integer("SELECT count(*) FROM audit"), 1);
}

TEST_F(WeatherStoreTest, OfVersionSevenIsBroughtUpToDate) {
    auto season = demo();
    season.weather = nullptr;
    { const auto newest = file_of(season); }
    ASSERT_TRUE(take_back_to(7, path()).ok());
    const auto file = SeasonFile::open(path(), OpenMode::existing);
    ASSERT_TRUE(file.ok());
    expect_equal_seasons(before_version_9(season), *file->load());
    EXPECT_EQ(file->load_with_revision()->weather_revision, 0);
}

}  // namespace
}  // namespace beetwright::records
