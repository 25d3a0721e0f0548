#include "records/photo_store.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>

#include "demo_season/invent.hpp"
#include "records/season_file.hpp"

namespace beetwright::records {
namespace {

namespace fs = std::filesystem;

constexpr Instant kNow{std::chrono::milliseconds(1'900'000'000'000)};

Uuid id(std::uint64_t number) {
    return Uuid::version7(kNow, 1, number);
}
Photo photo(std::uint64_t number, const std::string& field = "Long Acre") {
    return {.id = id(number),
            .observation = id(100 + number),
            .field = field,
            .at = kNow + std::chrono::minutes(10 - number),
            .by = "Anna",
            .type = "image/jpeg"};
}

class PhotoStoreTest : public ::testing::Test {
 protected:
    void SetUp() override {
        const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
        folder_ = fs::temp_directory_path() / ("beetwright_photo_" + std::string(test->name()) +
                                               "_" + std::to_string(getpid()));
        fs::remove_all(folder_);
        fs::create_directories(folder_);
        ASSERT_TRUE(SeasonFile::open(path(), OpenMode::create).ok());
    }
    void TearDown() override { fs::remove_all(folder_); }
    [[nodiscard]] std::string path() const { return (folder_ / "season.beet").string(); }
    [[nodiscard]] PhotoStore open() const { return PhotoStore::open(path()).value(); }

    fs::path folder_;
    /// Any byte may stand in a picture.
    const std::string bytes_ = std::string("\xFF\xD8\0beet\0", 8) + std::string(100'000, '\xFF');
};

TEST_F(PhotoStoreTest, KeepsEveryByteAndListsWithoutThem) {
    {
        auto store = open();
        EXPECT_EQ(store.add(photo(1), bytes_, Uuid()).value(), Kept::fresh);
        EXPECT_EQ(store.add(photo(2), "two", Uuid()).value(), Kept::fresh);
        EXPECT_EQ(store.add(photo(3, "Upper Sallow"), "three", Uuid()).value(), Kept::fresh);
    }
    auto store = open();
    EXPECT_EQ(store.bytes_of(id(1)).value(), bytes_);
    const auto of_field = store.list("Long Acre").value();
    ASSERT_EQ(of_field.size(), 2U);
    EXPECT_EQ(of_field[0].id, id(2)) << "it came first";
    EXPECT_EQ(of_field[1].id, id(1));
    EXPECT_EQ(of_field[1].observation, id(101));
    EXPECT_EQ(of_field[1].field, "Long Acre");
    EXPECT_EQ(of_field[1].at, photo(1).at);
    EXPECT_EQ(of_field[1].by, "Anna");
    EXPECT_EQ(of_field[1].type, "image/jpeg");
    EXPECT_EQ(of_field[1].size, 100'008);
    EXPECT_EQ(store.list("").value().size(), 3U);
    EXPECT_TRUE(store.list("Long").value().empty());
    ASSERT_FALSE(store.bytes_of(id(4)).ok());
    EXPECT_EQ(store.bytes_of(id(4)).problems()[0].kind, ProblemKind::missing);
}

TEST_F(PhotoStoreTest, TheSameAgainIsKnownAndAnotherIsRefused) {
    auto store = open();
    ASSERT_EQ(store.add(photo(1), bytes_, Uuid()).value(), Kept::fresh);
    auto again = photo(1);
    again.at = kNow + std::chrono::hours(1);
    again.by = "Bert";
    EXPECT_EQ(store.add(again, bytes_, Uuid()).value(), Kept::known);
    EXPECT_EQ(store.find(id(1)).value()->by, "Anna") << "the first word stays";
    const auto expect_conflict = [&](const Photo& other, const std::string& bytes) {
        const auto refused = store.add(other, bytes, Uuid());
        ASSERT_FALSE(refused.ok());
        EXPECT_EQ(refused.problems()[0].kind, ProblemKind::conflict);
    };
    expect_conflict(photo(1), bytes_ + "x");
    expect_conflict(photo(1, "Upper Sallow"), bytes_);
    auto of_another = photo(1);
    of_another.observation = id(7);
    expect_conflict(of_another, bytes_);
    EXPECT_EQ(store.bytes_of(id(1)).value(), bytes_);
}

TEST_F(PhotoStoreTest, WhoAddedOneIsNotedOnce) {
    auto people = PeopleStore::open(path()).value();
    const Person anna{.id = id(50), .name = "Anna", .role = Role::operator_, .created = kNow};
    ASSERT_TRUE(people.add(anna, "x").ok());
    auto store = open();
    ASSERT_TRUE(store.add(photo(1), bytes_, anna.id).ok());
    ASSERT_TRUE(store.add(photo(1), bytes_, anna.id).ok());
    ASSERT_FALSE(store.add(photo(1), "other", anna.id).ok());
    ASSERT_FALSE(store.add(photo(2), bytes_, id(51)).ok()) << "nobody has this id";
    EXPECT_FALSE(store.find(id(2)).value()) << "without the note there is no photograph";
    const auto audit = people.audit(10).value();
    ASSERT_EQ(audit.size(), 1U);
    EXPECT_EQ(audit[0].person, anna.id);
    EXPECT_EQ(audit[0].what, "added a photograph");
    EXPECT_EQ(audit[0].about, "Long Acre: " + id(1).text());
    EXPECT_EQ(audit[0].at, photo(1).at);
}

TEST_F(PhotoStoreTest, AnImportLeavesThemAlone) {
    ASSERT_TRUE(open().add(photo(1), bytes_, Uuid()).ok());
    const auto season = demo::invent(5, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
    ASSERT_TRUE(SeasonFile::open(path(), OpenMode::existing)->import(season).ok());
    EXPECT_EQ(open().bytes_of(id(1)).value(), bytes_);
}

TEST_F(PhotoStoreTest, MakesNoFile) {
    fs::remove(path());
    EXPECT_FALSE(PhotoStore::open(path()).ok());
    EXPECT_FALSE(fs::exists(path()));
}

}  // namespace
}  // namespace beetwright::records
