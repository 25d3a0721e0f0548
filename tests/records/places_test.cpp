// Where things were seen, in the season file.
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>

#include "records/older_versions.hpp"
#include "records/season_file.hpp"
#include "season_equal.hpp"

namespace beetwright::records {
namespace {

namespace fs = std::filesystem;

class PlacesFile : public ::testing::Test {
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
    static check::Place place(int number, std::int32_t spot) {
        return {.id = id(number),
                .supersedes = {},
                .field = "Long Acre",
                .at = at(number),
                .of = id(100),
                .spot = spot,
                .latitude_rad = 0.942'477'123,
                .longitude_rad = -0.122'173'456,
                .accuracy = Length(4.5)};
    }
    static ledger::Season season() {
        ledger::Season s;
        s.name = "Trial";
        s.currency = "EUR";
        ledger::Field field;
        field.name = "Long Acre";
        field.area = 8.0 * unit::ha;
        s.fields = {field};
        s.places = {place(1, 0), place(2, 3)};
        s.places[1].accuracy = {};
        return s;
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

    fs::path folder_ =
        fs::temp_directory_path() / ("beetwright_places_" + std::to_string(getpid()));
};

TEST_F(PlacesFile, GivesBackWhatWasImportedAndKnowsItAgain) {
    ASSERT_TRUE(import(season()).ok());
    expect_equal_seasons(season(), load());
    const auto again = import(season());
    ASSERT_TRUE(again.ok());
    EXPECT_EQ(again->rows.back().what, "places in fields");
    EXPECT_EQ(again->rows.back().known, 2);
    const auto ids = SeasonFile::open(path(), OpenMode::read_only).value().known_ids().value();
    EXPECT_EQ(ids[static_cast<std::size_t>(io::Observed::place)].size(), 2U);
}

TEST_F(PlacesFile, TakesWhatIsSentAndRefusesAnotherOfTheSameId) {
    ASSERT_TRUE(import(season()).ok());
    ledger::Season more;
    more.places = {place(3, 1)};
    const Submission first{.observations = more, .by = "Anna", .at = at(9)};
    EXPECT_EQ(open().append({&first, 1}).receipts[0]->fresh, std::vector<Uuid>{id(3)});
    EXPECT_EQ(open().append({&first, 1}).receipts[0]->known, 1);
    more.places[0].latitude_rad += 1e-6;
    const Submission other{.observations = more, .by = "Anna", .at = at(9)};
    EXPECT_FALSE(open().append({&other, 1}).receipts[0].ok());
    ledger::Season corrected;
    corrected.places = {place(4, 1)};
    corrected.places[0].supersedes = id(3);
    const Submission correction{.observations = corrected, .by = "Anna", .at = at(9)};
    EXPECT_TRUE(open().append({&correction, 1}).receipts[0].ok());
    EXPECT_EQ(load().places.size(), 4U) << "both stay";
}

TEST_F(PlacesFile, AnEditedRowIsTold) {
    auto written = season();
    written.places[0].id = Uuid::from_text("an id made of its content");
    ASSERT_TRUE(import(written).ok());
    auto edited = written;
    edited.places[0].id = Uuid::from_text("another id made of another content");
    edited.places[0].latitude_rad += 1e-6;
    const auto refused = import(edited);
    ASSERT_FALSE(refused.ok());
    EXPECT_NE(refused.problems()[0].text().find("edited in latitude"), std::string::npos)
        << refused.problems()[0].text();
}

TEST_F(PlacesFile, HoldAFieldsName) {
    ASSERT_TRUE(import(season()).ok());
    const AuditEntry by{.at = at(1), .person = {}, .what = "removed", .about = "fields.csv"};
    const auto refused = open().remove(io::Master::fields, "Long Acre", by);
    ASSERT_FALSE(refused.ok());
    EXPECT_NE(refused.problems()[0].text().find("2 places of things seen"), std::string::npos);
}

TEST_F(PlacesFile, AFileOfVersionTenIsBroughtUpToDate) {
    const auto before = before_version_11(season());
    ASSERT_TRUE(import(before).ok());
    ASSERT_TRUE(take_back_to(10, path()).ok());
    ASSERT_TRUE(SeasonFile::open(path(), OpenMode::existing).ok());
    expect_equal_seasons(before, load());
    ASSERT_TRUE(import(season()).ok());
    expect_equal_seasons(season(), load());
}

}  // namespace
}  // namespace beetwright::records
