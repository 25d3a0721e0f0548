// From whom what was sent came, as a tablet hears of it: all of it once, then what came since, and
// all of it again whenever that may not be enough.
#include <gtest/gtest.h>

#include <cstdio>
#include <string>

#include "app/access_fixture.hpp"
#include "io/season_folder.hpp"
#include "io/sync_json.hpp"

namespace beetwright::app {
namespace {

std::string id_of(int number) {
    char id[40];
    std::snprintf(id, sizeof id, "01900000-0000-7000-8000-%012d", number);
    return id;
}

class ReceivedTest : public AccessTest {
 protected:
    /// What one tablet knows, kept as web/src/sync/received.ts keeps it.
    struct Tablet {
        std::string tag;
        Json all = Json::object();
    };
    enum class Heard { nothing_new, what_came_since, all };

    void SetUp() override {
        AccessTest::SetUp();
        anna_ = first_owner(*people_);
        bert_ = join(*people_, "Bert", Role::operator_, anna_.person);
        field_ = (*keeper_->season())->season.fields.front().name;
    }
    static std::string rows(int number, const std::string& field, const std::string& supersedes) {
        return "sheet,supersedes,field,at,spot,topping,tip_break [cm]\n" + id_of(number) + "," +
               supersedes + "," + field + ",2031-10-05T09:00:00Z,1,correct,2-4\n";
    }
    void send(int number, const SignedIn& by, const std::string& supersedes = "") {
        pass(std::chrono::seconds(1));
        const auto sent =
            ask(Method::post, "/api/v1/observations",
                Json{{"beets.csv", rows(number, field_, supersedes)}}.dump(), by.token);
        ASSERT_EQ(sent.status, 200) << sent.body;
    }
    Heard hear(Tablet& tablet) {
        auto asks = request(Method::get, "/api/v1/received", "", anna_.token);
        asks.headers["if-none-match"] = tablet.tag;
        asks.headers["x-beetwright-additions"] = "1";
        const auto answer = access_->answer(asks);
        if (answer.status == 304) {
            return Heard::nothing_new;
        }
        EXPECT_EQ(answer.status, 200) << answer.body;
        tablet.tag = header_of(answer, "ETag");
        if (header_of(answer, "X-Beetwright-Additions").empty()) {
            tablet.all = Json::parse(answer.body);
            return Heard::all;
        }
        tablet.all.update(Json::parse(answer.body));
        return Heard::what_came_since;
    }
    /// What the tablet knows is what the season file says.
    void expect_right(const Tablet& tablet) const {
        const auto file = records::SeasonFile::open(path(), records::OpenMode::read_only);
        const auto received = file->received();
        ASSERT_TRUE(received.ok());
        EXPECT_EQ(tablet.all, Json::parse(io::received_json(*received)));
    }
    void start_anew() {
        access_.reset();
        keeper_.reset();
        keeper_ = std::move(SeasonKeeper::open(path()).value());
        add_every_route(access_ = make(Front::nothing));
    }
    /// As another server of the same file takes what is sent to it.
    void send_elsewhere(int number, const std::string& by) {
        const auto other = std::move(SeasonKeeper::open(path()).value());
        const auto snapshot = other->season().value();
        const auto reading = io::read_observation_rows({{"beets.csv", rows(number, field_, "")}},
                                                       snapshot->season, snapshot->ids);
        ASSERT_TRUE(reading.ok());
        ASSERT_TRUE(other->append({reading->season, by, now_.load()}).ok());
    }

    SignedIn anna_;
    SignedIn bert_;
    std::string field_;
};

TEST_F(ReceivedTest, ATabletHearsOfWhatCameSince) {
    Tablet tablet;
    send(1, anna_);
    EXPECT_EQ(hear(tablet), Heard::all);
    EXPECT_EQ(hear(tablet), Heard::nothing_new);
    send(2, bert_);
    send(3, anna_, id_of(2));
    Tablet since{tablet.tag, Json::object()};
    EXPECT_EQ(hear(since), Heard::what_came_since);
    EXPECT_EQ(since.all.size(), 2U);
    EXPECT_EQ(hear(tablet), Heard::what_came_since);
    EXPECT_EQ(tablet.all.at(id_of(1)).at("by"), "Anna");
    EXPECT_EQ(tablet.all.at(id_of(2)).at("by"), "Bert");
    EXPECT_EQ(tablet.all.at(id_of(3)).at("by"), "Anna");
    expect_right(tablet);
    // Sent again by somebody else it is still whose it was, and nothing new.
    send(2, anna_);
    EXPECT_EQ(hear(tablet), Heard::nothing_new);
    expect_right(tablet);
}

TEST_F(ReceivedTest, AfterARestartAllIsToldAnew) {
    Tablet tablet;
    send(1, anna_);
    hear(tablet);
    start_anew();
    EXPECT_EQ(hear(tablet), Heard::all) << "nothing has changed, but a file may have been put back";
    expect_right(tablet);
    send(2, bert_);
    EXPECT_EQ(hear(tablet), Heard::what_came_since);
    expect_right(tablet);
}

// What was sent after the backup never came, as far as the season knows; then its number of
// revisions is reached again by something else.
TEST_F(ReceivedTest, AfterABackupWasPutBackNothingOfBeforeIsBelieved) {
    Tablet tablet;
    send(1, anna_);
    const auto backup = (folder_ / "backup.beet").string();
    ASSERT_TRUE(
        records::SeasonFile::open(path(), records::OpenMode::read_only)->back_up(backup).ok());
    send(2, anna_);
    hear(tablet);
    EXPECT_EQ(tablet.all.size(), 2U);
    access_.reset();
    keeper_.reset();
    people_.reset();
    photos_.reset();
    for (const char* end : {"", "-wal", "-shm"}) {
        std::filesystem::remove(path() + end);
    }
    std::filesystem::rename(backup, path());
    people_ = open();
    photos_ = std::move(Photos::open(path()).value());
    start_anew();
    send(3, bert_);
    EXPECT_EQ(hear(tablet), Heard::all);
    EXPECT_EQ(tablet.all.size(), 2U);
    EXPECT_FALSE(tablet.all.contains(id_of(2)));
    EXPECT_EQ(tablet.all.at(id_of(3)).at("by"), "Bert");
    expect_right(tablet);
}

TEST_F(ReceivedTest, WhatAnotherServerOfTheFileTookIsNotMissed) {
    Tablet tablet;
    send(1, anna_);
    hear(tablet);
    send_elsewhere(2, "Clara");
    send(3, bert_);
    EXPECT_EQ(hear(tablet), Heard::all);
    EXPECT_EQ(tablet.all.at(id_of(2)).at("by"), "Clara");
    expect_right(tablet);
    send(4, bert_);
    EXPECT_EQ(hear(tablet), Heard::what_came_since);
    expect_right(tablet);
}

TEST_F(ReceivedTest, WhoDoesNotAskForAdditionsGetsAll) {
    send(1, anna_);
    Tablet tablet;
    hear(tablet);
    send(2, bert_);
    auto asks = request(Method::get, "/api/v1/received", "", anna_.token);
    asks.headers["if-none-match"] = tablet.tag;
    const auto answer = access_->answer(asks);
    EXPECT_EQ(header_of(answer, "X-Beetwright-Additions"), "");
    EXPECT_EQ(Json::parse(answer.body).size(), 2U);
}

}  // namespace
}  // namespace beetwright::app
