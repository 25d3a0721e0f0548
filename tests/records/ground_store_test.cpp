// What is kept of fields' ground in a season file.
#include "records/ground_store.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <string>

#include "demo_season/invent.hpp"
#include "records/older_versions.hpp"
#include "records/people_store.hpp"
#include "records/season_file.hpp"

namespace beetwright::records {
namespace {

namespace fs = std::filesystem;

const Instant kNow = *parse_instant("2031-11-20T08:00:00Z");

class GroundStoreTest : public ::testing::Test {
 protected:
    void SetUp() override {
        folder_ = fs::temp_directory_path() / ("beetwright_ground_" + std::to_string(getpid()));
        fs::remove_all(folder_);
        fs::create_directories(folder_);
        const auto season =
            demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
        ASSERT_TRUE(SeasonFile::open(path(), OpenMode::create)->import(season).ok());
    }
    void TearDown() override { fs::remove_all(folder_); }

    [[nodiscard]] std::string path() const { return (folder_ / "season.beet").string(); }
    [[nodiscard]] GroundStore open() const { return std::move(GroundStore::open(path()).value()); }
    static GroundEntry entry(GroundPart part, std::string bytes, std::string field = "Hollow Oak") {
        return {.field = std::move(field),
                .part = part,
                .from = "log.csv",
                .at = kNow,
                .said = "{}",
                .bytes = std::move(bytes)};
    }

    fs::path folder_;
};

TEST_F(GroundStoreTest, KeepsEveryByteAndListsHeightsWithoutThem) {
    const std::string heights("log\0with\xff every byte", 21);
    {
        auto store = open();
        EXPECT_EQ(store.revision().value(), 0);
        ASSERT_TRUE(store.set(entry(GroundPart::heights, heights), Uuid()).ok());
        ASSERT_TRUE(store.set(entry(GroundPart::border, "border"), Uuid()).ok());
        ASSERT_TRUE(store.set(entry(GroundPart::zones, "zones", "Upper Sallow"), Uuid()).ok());
    }
    auto store = open();
    EXPECT_EQ(store.revision().value(), 3);
    const auto all = store.list().value();
    ASSERT_EQ(all.size(), 3U);
    EXPECT_EQ(all[0].part, GroundPart::border);
    EXPECT_EQ(all[0].bytes, "border");
    EXPECT_EQ(all[0].stamp, 2);
    EXPECT_EQ(all[1].part, GroundPart::heights);
    EXPECT_EQ(all[1].bytes, "");
    EXPECT_EQ(all[1].at, kNow);
    EXPECT_EQ(all[1].from, "log.csv");
    EXPECT_EQ(all[2].field, "Upper Sallow");
    EXPECT_EQ(store.find("Hollow Oak", GroundPart::heights).value()->bytes, heights);
    EXPECT_FALSE(store.find("Upper Sallow", GroundPart::heights).value().has_value());
}

TEST_F(GroundStoreTest, TheLastOneHoldsAndWhoSetItIsNoted) {
    auto people = PeopleStore::open(path()).value();
    const Person anna{.id = Uuid::parse("01890000-0000-7000-8000-000000000050").value(),
                      .name = "Anna",
                      .role = Role::manager,
                      .created = kNow};
    ASSERT_TRUE(people.add(anna, "x").ok());
    auto store = open();
    ASSERT_TRUE(store.set(entry(GroundPart::border, "one"), anna.id).ok());
    ASSERT_TRUE(store.set(entry(GroundPart::border, "two"), anna.id).ok());
    EXPECT_EQ(store.find("Hollow Oak", GroundPart::border).value()->bytes, "two");
    ASSERT_TRUE(store.remove("Hollow Oak", GroundPart::border, anna.id, kNow).ok());
    const auto audit = people.audit(10).value();
    ASSERT_EQ(audit.size(), 3U);
    EXPECT_EQ(audit[0].what, "removed");
    EXPECT_EQ(audit[0].about, "Hollow Oak: border");
    EXPECT_EQ(audit[1].about, "Hollow Oak: border from log.csv");
}

TEST_F(GroundStoreTest, NothingOfAFieldThatIsNotThere) {
    auto store = open();
    const auto refused = store.set(entry(GroundPart::border, "x", "Nowhere"), Uuid());
    ASSERT_FALSE(refused.ok());
    EXPECT_EQ(refused.problems()[0].kind, ProblemKind::missing);
    EXPECT_FALSE(store.remove("Hollow Oak", GroundPart::zones, Uuid(), kNow).ok());
    EXPECT_EQ(store.revision().value(), 0) << "what failed left nothing behind";
    EXPECT_TRUE(store.list().value().empty());
}

TEST_F(GroundStoreTest, AnImportAndABackupLeaveItAsItIs) {
    ASSERT_TRUE(open().set(entry(GroundPart::border, "border"), Uuid()).ok());
    const auto season = demo::invent(5, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
    ASSERT_TRUE(SeasonFile::open(path(), OpenMode::existing)->import(season).ok());
    EXPECT_EQ(open().find("Hollow Oak", GroundPart::border).value()->bytes, "border");
    const auto copy = (folder_ / "copy.beet").string();
    ASSERT_TRUE(SeasonFile::open(path(), OpenMode::read_only)->back_up(copy).ok());
    EXPECT_EQ(GroundStore::open(copy)->find("Hollow Oak", GroundPart::border).value()->bytes,
              "border");
}

TEST_F(GroundStoreTest, AnOlderFileIsBroughtUpToDate) {
    ASSERT_TRUE(take_back_to(10, path()).ok());
    auto store = open();
    ASSERT_TRUE(store.set(entry(GroundPart::zones, "zones"), Uuid()).ok());
    EXPECT_EQ(store.list().value().size(), 1U);
}

}  // namespace
}  // namespace beetwright::records
