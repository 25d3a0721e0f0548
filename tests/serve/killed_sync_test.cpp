// A server killed again and again while tablets send, as by the power: what it acknowledged is in
// the season file, once and to the beet; what it did not, tablets send again, and then it is, too.
#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <cstdlib>
#include <map>
#include <mutex>
#include <random>
#include <thread>
#include <vector>

#include "records/season_file.hpp"
#include "records/sqlite.hpp"
#include "serve/numbered_sheets.hpp"
#include "serve/served_process.hpp"

namespace beetwright::serve {
namespace {

constexpr int kTablets = 4;
constexpr int kKills = BEETWRIGHT_KILLS;
constexpr const char* kField = "Upper Sallow";

struct Counts {
    std::atomic<int> acknowledged = 0;
    std::atomic<int> unanswered = 0;       ///< sent, and then the server was gone
    std::atomic<int> known_on_resend = 0;  ///< of these, those that had been written all the same
    std::atomic<int> sent_twice = 0;       ///< although acknowledged
    std::atomic<int> wrong = 0;
};

/// Where the server is, as long as there is one.
class Beacon {
 public:
    void set(std::uint16_t port) {
        const std::lock_guard lock(mutex_);
        port_ = port;
        changed_.notify_all();
    }
    std::uint16_t wait() {
        std::unique_lock lock(mutex_);
        changed_.wait(lock, [this] { return port_ != 0; });
        return port_;
    }

 private:
    std::mutex mutex_;
    std::condition_variable changed_;
    std::uint16_t port_ = 0;
};

/// One tablet: sends sheet after sheet, each until it is acknowledged.
class Tablet {
 public:
    Tablet(int first, Beacon& beacon, Counts& counts, const std::atomic<bool>& enough)
        : number_(first), beacon_(beacon), counts_(counts), enough_(enough) {}

    void work() {
        while (!(enough_ && !is_pending_)) {
            http::Client client(beacon_.wait());
            while (!(enough_ && !is_pending_) && send_next(client)) {
            }
        }
    }
    [[nodiscard]] const std::vector<int>& acknowledged() const { return acknowledged_; }

 private:
    /// False: the server is gone.
    bool send_next(http::Client& client) {
        if (!is_pending_) {
            number_ += kTablets;
            was_sent_ = false;
            is_pending_ = true;
        }
        const auto answer = send(client, number_);
        if (answer.empty()) {
            was_sent_ = true;
            return false;
        }
        const bool is_new = answer.ends_with("{\"new\":1,\"known\":0}\n");
        const bool is_known = answer.ends_with("{\"new\":0,\"known\":1}\n");
        // Known can be only what was sent before.
        counts_.wrong += is_new || (is_known && was_sent_) ? 0 : 1;
        counts_.known_on_resend += is_known ? 1 : 0;
        acknowledged_.push_back(number_);
        is_pending_ = false;
        ++counts_.acknowledged;
        return number_ % 5 != 0 || send_again(client, acknowledged_[acknowledged_.size() / 2]);
    }
    bool send_again(http::Client& client, int number) {
        const auto answer = send(client, number);
        if (answer.empty()) {
            return false;
        }
        counts_.wrong += answer.ends_with("{\"new\":0,\"known\":1}\n") ? 0 : 1;
        ++counts_.sent_twice;
        return true;
    }
    std::string send(http::Client& client, int number) {
        if (!client.is_connected() ||
            !client.say(post("/api/v1/observations", sheet_json(number, kField)))) {
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
            return {};
        }
        auto answer = client.hear();
        counts_.unanswered += answer.empty() ? 1 : 0;
        return answer;
    }

    int number_;
    bool is_pending_ = false;
    bool was_sent_ = false;
    std::vector<int> acknowledged_;
    Beacon& beacon_;
    Counts& counts_;
    const std::atomic<bool>& enough_;
};

class KilledSync : public ::testing::Test {
 protected:
    void SetUp() override {
        ASSERT_TRUE(make_demo_season(BEETWRIGHT_BINARY_DIR, folder_, season_));
        const auto file = records::SeasonFile::open(season_, records::OpenMode::read_only);
        ASSERT_TRUE(file.ok());
        sheets_before_ = file->load()->beet_sheets.size();
        for (int t = 0; t < kTablets; ++t) {
            tablets_.emplace_back(t, beacon_, counts_, enough_);
        }
    }

    /// Kills and restarts; whoever is left running in the end has to be told so.
    std::unique_ptr<ServedProcess> kill_many_times(std::mt19937& random) {
        std::uniform_int_distribution uptime_ms(20, 150);
        for (int kill = 0; kill < kKills; ++kill) {
            auto server = ServedProcess::start(BEETWRIGHT_BINARY_DIR, season_);
            if (!server) {
                ADD_FAILURE() << "after kill " << kill << " the server did not start";
                return nullptr;
            }
            beacon_.set(server->port());
            std::this_thread::sleep_for(std::chrono::milliseconds(uptime_ms(random)));
            beacon_.set(0);
            server->kill();
        }
        return ServedProcess::start(BEETWRIGHT_BINARY_DIR, season_);
    }

    void expect_all_once() {
        const auto file = records::SeasonFile::open(season_, records::OpenMode::read_only);
        ASSERT_TRUE(file.ok()) << file.problems()[0].text();
        const auto season = file->load();
        ASSERT_TRUE(season.ok()) << season.problems()[0].text();
        std::multimap<Uuid, const check::BeetSheet*> sheets;
        for (const auto& sheet : season->beet_sheets) {
            sheets.emplace(sheet.id, &sheet);
        }
        int expected = 0;
        for (const auto& tablet : tablets_) {
            for (const int number : tablet.acknowledged()) {
                ++expected;
                ASSERT_EQ(sheets.count(sheet_id(number)), 1U) << "sheet " << number;
                EXPECT_TRUE(is_sheet(*sheets.find(sheet_id(number))->second, number, kField))
                    << "sheet " << number;
            }
        }
        EXPECT_EQ(season->beet_sheets.size(), sheets_before_ + static_cast<std::size_t>(expected));
        EXPECT_EQ(file->received()->size(), static_cast<std::size_t>(expected));
    }
    void expect_integrity() {
        const auto database = records::Database::open(season_, records::Access::read);
        ASSERT_TRUE(database.ok());
        auto check = database->prepare("PRAGMA integrity_check");
        ASSERT_TRUE(check.ok() && *check->step());
        EXPECT_EQ(check->text(0), "ok");
    }

    TemporaryFolder folder_{"killed_sync"};
    std::string season_ = folder_ / "season.beet";
    std::size_t sheets_before_ = 0;
    Beacon beacon_;
    Counts counts_;
    std::atomic<bool> enough_ = false;
    std::vector<Tablet> tablets_;
};

TEST_F(KilledSync, WhatWasAcknowledgedIsThereOnce) {
    const char* given = std::getenv("BEETWRIGHT_SEED");
    const unsigned seed = given == nullptr ? std::random_device{}() : unsigned(std::atoll(given));
    std::printf("BEETWRIGHT_SEED=%u\n", seed);
    std::mt19937 random(seed);
    std::vector<std::jthread> working;
    for (auto& tablet : tablets_) {
        working.emplace_back([&tablet] { tablet.work(); });
    }
    const auto last = kill_many_times(random);
    if (!last) {
        std::fputs("the server does not start any more\n", stderr);
        std::abort();  // the tablets would wait for ever
    }
    beacon_.set(last->port());
    enough_ = true;
    working.clear();
    EXPECT_EQ(last->stop(), 0);

    std::printf(
        "%d kills: %d sheets acknowledged; %d requests went unanswered, of which %d had been "
        "written; %d were sent once more although acknowledged\n",
        kKills, counts_.acknowledged.load(), counts_.unanswered.load(),
        counts_.known_on_resend.load(), counts_.sent_twice.load());
    EXPECT_EQ(counts_.wrong, 0);
    // Else the kills came when nobody was sending, and nothing is proven.
    EXPECT_GE(counts_.unanswered, kKills / 2);
    EXPECT_GE(counts_.acknowledged, kKills);
    EXPECT_GT(counts_.sent_twice, 0);
    expect_all_once();
    expect_integrity();
}

}  // namespace
}  // namespace beetwright::serve
