#include "records/people_store.hpp"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <string>

#include "demo_season/invent.hpp"
#include "records/migrations.hpp"
#include "records/older_versions.hpp"
#include "records/season_file.hpp"
#include "season_equal.hpp"

namespace beetwright::records {
namespace {

namespace fs = std::filesystem;

constexpr Instant kNow{std::chrono::milliseconds(1'900'000'000'000)};
constexpr std::chrono::hours kHour{1};

Uuid id(std::uint64_t number) {
    return Uuid::version7(kNow, 1, number);
}
TokenHash hash(std::uint8_t number) {
    TokenHash hash{};
    hash.fill(number);
    hash[3] = 0;  // a hash may hold any byte
    return hash;
}
Person person(std::uint64_t number, const std::string& name, Role role = Role::viewer) {
    return {.id = id(number), .name = name, .role = role, .created = kNow, .active = true};
}
Session session(std::uint8_t token, std::uint64_t of, Instant expires = kNow + kHour) {
    return {
        .token = hash(token), .person = id(of), .created = kNow, .seen = kNow, .expires = expires};
}

class PeopleStoreTest : public ::testing::Test {
 protected:
    void SetUp() override {
        const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
        folder_ = fs::temp_directory_path() /
                  ("beetwright_" + std::string(test->name()) + "_" + std::to_string(getpid()));
        fs::remove_all(folder_);
        fs::create_directories(folder_);
        ASSERT_TRUE(SeasonFile::open(path(), OpenMode::create).ok());
    }
    void TearDown() override { fs::remove_all(folder_); }

    [[nodiscard]] std::string path() const { return (folder_ / "season.beet").string(); }
    [[nodiscard]] PeopleStore open() const {
        auto store = PeopleStore::open(path());
        EXPECT_TRUE(store.ok()) << store.problems()[0].text();
        return std::move(store).value();
    }

    fs::path folder_;
};

TEST_F(PeopleStoreTest, GivesPeopleBack) {
    auto store = open();
    ASSERT_TRUE(store.add(person(1, "Anna", Role::owner), "hash one").ok());
    ASSERT_TRUE(store.add(person(2, "bert"), "hash two").ok());
    EXPECT_FALSE(store.add(person(3, "BERT"), "hash three").ok()) << "one name";
    EXPECT_EQ(store.people().value().size(), 2U);
    const auto bert = store.person_named("Bert").value();
    ASSERT_TRUE(bert);
    EXPECT_EQ(bert->id, id(2));
    EXPECT_EQ(bert->created, kNow);
    EXPECT_FALSE(store.person(id(9)).value());
    EXPECT_EQ(store.password_of(id(2)).value(), "hash two");
    EXPECT_EQ(store.password_of(id(9)).value(), "");
    ASSERT_TRUE(store.set_password(id(2), "another").ok());
    EXPECT_EQ(store.password_of(id(2)).value(), "another");
    EXPECT_EQ(store.active_owners().value(), 1);
    ASSERT_TRUE(store.change(id(1), Role::owner, false).ok());
    EXPECT_EQ(store.active_owners().value(), 0);
    EXPECT_FALSE(store.person(id(1)).value()->active);
}

TEST_F(PeopleStoreTest, KeepsSessions) {
    auto store = open();
    ASSERT_TRUE(store.add(person(1, "Anna"), "x").ok());
    ASSERT_TRUE(store.add(person(2, "Bert"), "x").ok());
    for (std::uint8_t token = 1; token <= 3; ++token) {
        ASSERT_TRUE(store.add(session(token, 1)).ok());
    }
    ASSERT_TRUE(store.add(session(4, 2)).ok());
    EXPECT_FALSE(store.add(session(5, 77)).ok()) << "of nobody";
    ASSERT_TRUE(store.prolong(hash(1), kNow + kHour, kNow + 3 * kHour).ok());
    EXPECT_EQ(store.session(hash(1)).value()->expires, kNow + 3 * kHour);
    ASSERT_TRUE(store.end_session(hash(2)).ok());
    EXPECT_FALSE(store.session(hash(2)).value());
    ASSERT_TRUE(store.end_sessions_of(id(1), hash(3)).ok());
    EXPECT_FALSE(store.session(hash(1)).value());
    EXPECT_TRUE(store.session(hash(3)).value());
    EXPECT_TRUE(store.session(hash(4)).value());
    ASSERT_TRUE(store.forget_expired(kNow + kHour).ok());
    EXPECT_FALSE(store.session(hash(3)).value());
}

TEST_F(PeopleStoreTest, KeepsInvitations) {
    auto store = open();
    ASSERT_TRUE(store.add(person(1, "Anna"), "x").ok());
    Invitation invitation{.token = hash(1),
                          .role = Role::owner,
                          .name_hint = "",
                          .made_by = {},
                          .at_start = true,
                          .created = kNow,
                          .expires = kNow + kHour,
                          .used_by = {}};
    ASSERT_TRUE(store.add(invitation).ok());
    invitation.token = hash(2);
    ASSERT_TRUE(store.add(invitation).ok());
    ASSERT_TRUE(store.use_invitation(hash(1), id(1)).ok());
    invitation.token = hash(4);
    invitation.at_start = false;
    ASSERT_TRUE(store.add(invitation).ok());
    invitation.token = hash(3);
    invitation.made_by = id(1);
    invitation.name_hint = "Bert";
    ASSERT_TRUE(store.add(invitation).ok());
    ASSERT_TRUE(store.void_invitations_of_starts().ok());
    EXPECT_EQ(store.invitation(hash(1)).value()->used_by, id(1)) << "what was used stays";
    EXPECT_TRUE(store.invitation(hash(1)).value()->made_by.is_nil());
    EXPECT_FALSE(store.invitation(hash(2)).value());
    EXPECT_TRUE(store.invitation(hash(4)).value()) << "made on the command line";
    EXPECT_EQ(store.invitation(hash(3)).value()->name_hint, "Bert");
    ASSERT_TRUE(store.forget_expired(kNow + kHour).ok());
    EXPECT_TRUE(store.invitation(hash(1)).value());
    EXPECT_FALSE(store.invitation(hash(3)).value());
}

TEST_F(PeopleStoreTest, ATransactionIsWholeOrNot) {
    auto store = open();
    {
        auto transaction = store.begin();
        ASSERT_TRUE(transaction.ok());
        ASSERT_TRUE(store.add(person(1, "Anna"), "x").ok());
        ASSERT_TRUE(
            store.note({.at = kNow, .person = id(1), .what = "joined", .about = "viewer"}).ok());
    }
    EXPECT_TRUE(store.people().value().empty());
    EXPECT_TRUE(store.audit(10).value().empty());
}

TEST_F(PeopleStoreTest, WhatWasAcknowledgedOutlivesAKill) {
    const pid_t child = fork();
    if (child == 0) {
        auto store = PeopleStore::open(path());
        const bool done =
            store.ok() && store->add(person(1, "Anna"), "x").ok() && store->add(session(1, 1)).ok();
        kill(getpid(), done ? SIGKILL : SIGABRT);
    }
    int status = 0;
    waitpid(child, &status, 0);
    ASSERT_TRUE(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL);
    auto store = open();
    EXPECT_TRUE(store.person_named("Anna").value());
    EXPECT_TRUE(store.session(hash(1)).value());
}

// Version 2 had no people.
TEST_F(PeopleStoreTest, BringsAFileOfVersionTwoUpToDate) {
    const auto season = before_version_7(
        demo::invent(5, UnitSystem::metric, demo::loss_physics(Catalogue{})).season);
    ASSERT_TRUE(SeasonFile::open(path(), OpenMode::existing).value().import(season).ok());
    ASSERT_TRUE(take_back_to(2, path()).ok());
    EXPECT_FALSE(SeasonFile::open(path(), OpenMode::read_only).ok());
    EXPECT_TRUE(open().people().value().empty());
    const auto file = SeasonFile::open(path(), OpenMode::read_only);
    ASSERT_TRUE(file.ok());
    expect_equal_seasons(season, file->load().value());
    EXPECT_EQ(*Database::open(path(), Access::read)->integer("PRAGMA user_version"),
              kNewestVersion);
}

// Of version 4, an invitation that nobody made was made by a start of the server.
TEST_F(PeopleStoreTest, BringsAFileOfVersionFourUpToDate) {
    {
        auto store = open();
        ASSERT_TRUE(store.add(person(1, "Anna"), "x").ok());
        for (const std::uint8_t token : {std::uint8_t{1}, std::uint8_t{2}}) {
            ASSERT_TRUE(store
                            .add(Invitation{.token = hash(token),
                                            .role = Role::owner,
                                            .name_hint = "",
                                            .made_by = token == 1 ? Uuid() : id(1),
                                            .created = kNow,
                                            .expires = kNow + kHour,
                                            .used_by = {}})
                            .ok());
        }
    }
    ASSERT_TRUE(take_back_to(4, path()).ok());
    auto store = open();
    EXPECT_TRUE(store.invitation(hash(1)).value()->at_start);
    ASSERT_TRUE(store.void_invitations_of_starts().ok());
    EXPECT_FALSE(store.invitation(hash(1)).value());
    EXPECT_TRUE(store.invitation(hash(2)).value());
    EXPECT_EQ(*Database::open(path(), Access::read)->integer("SELECT count(*) FROM photos"), 0);
}

// Of version 5, an invitation lets somebody join.
TEST_F(PeopleStoreTest, BringsAFileOfVersionFiveUpToDate) {
    ASSERT_TRUE(open()
                    .add(Invitation{.token = hash(1),
                                    .role = Role::viewer,
                                    .name_hint = "",
                                    .made_by = {},
                                    .created = kNow,
                                    .expires = kNow + kHour,
                                    .used_by = {}})
                    .ok());
    ASSERT_TRUE(take_back_to(5, path()).ok());
    auto store = open();
    EXPECT_TRUE(store.invitation(hash(1)).value()->person.is_nil());
    EXPECT_EQ(*Database::open(path(), Access::read)->integer("PRAGMA user_version"),
              kNewestVersion);
}

TEST_F(PeopleStoreTest, AnImportLeavesPeopleAlone) {
    {
        auto store = open();
        ASSERT_TRUE(store.add(person(1, "Anna"), "x").ok());
    }
    const auto season = demo::invent(5, UnitSystem::metric, demo::loss_physics(Catalogue{})).season;
    ASSERT_TRUE(SeasonFile::open(path(), OpenMode::existing).value().import(season).ok());
    EXPECT_TRUE(open().person_named("Anna").value());
}

TEST_F(PeopleStoreTest, MakesNoFile) {
    fs::remove(path());
    EXPECT_FALSE(PeopleStore::open(path()).ok());
    EXPECT_FALSE(fs::exists(path()));
}

}  // namespace
}  // namespace beetwright::records
