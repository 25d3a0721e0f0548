// A disk without room: what tablets send is refused in plain words and nothing of it is kept,
// people read on, and once there is room again all goes on without a restart.
#include <gtest/gtest.h>
#include <sched.h>
#include <sys/mount.h>
#include <unistd.h>

#include <atomic>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <map>
#include <mutex>
#include <thread>
#include <vector>

#include "records/season_file.hpp"
#include "records/sqlite.hpp"
#include "serve/numbered_sheets.hpp"
#include "serve/served_process.hpp"

namespace beetwright::serve {
namespace {

namespace fs = std::filesystem;
constexpr const char* kField = "Upper Sallow";
constexpr int kMostTries = 3000;  ///< room in files that are there already is used up first

class DiskFull : public ::testing::Test {
 protected:
    void serve(const std::string& season, const std::string& log = "/dev/null") {
        season_ = season;
        ASSERT_TRUE(make_demo_season(BEETWRIGHT_BINARY_DIR, folder_, season_));
        server_ = ServedProcess::start(BEETWRIGHT_BINARY_DIR, season_, {.core = {}, .log = log});
        ASSERT_NE(server_, nullptr);
        client_ = std::make_unique<http::Client>(server_->port());
    }
    std::string send(http::Client& client, int number) {
        client.say(post("/api/v1/observations", sheet_json(number, kField)));
        return client.hear();
    }
    /// Sends until one is refused; its number, or 0 if none is.
    int send_until_refused(std::string& answer) {
        for (int tries = 0; tries < kMostTries; ++tries) {
            answer = send(*client_, ++last_);
            if (status_of(answer) != 200) {
                return last_;
            }
            acknowledged_.push_back(last_);
        }
        return 0;
    }
    void send_well(int number) {
        const auto answer = send(*client_, number);
        ASSERT_EQ(status_of(answer), 200) << answer;
        acknowledged_.push_back(number);
    }
    bool is_received(int number) {
        client_->say(get("/api/v1/received"));
        return client_->hear().find(sheet_id(number).text()) != std::string::npos;
    }
    int status(const std::string& target) {
        client_->say(get(target));
        return status_of(client_->hear());
    }

    /// What was acknowledged, and nothing else, is in the file once.
    void expect_what_was_acknowledged() {
        EXPECT_EQ(server_->stop(), 0);
        const auto file = records::SeasonFile::open(season_, records::OpenMode::read_only);
        ASSERT_TRUE(file.ok()) << file.problems()[0].text();
        EXPECT_EQ(file->received()->size(), acknowledged_.size());
        const auto season = *file->load();
        std::map<Uuid, const check::BeetSheet*> sheets;
        for (const auto& sheet : season.beet_sheets) {
            sheets[sheet.id] = &sheet;
        }
        for (const int number : acknowledged_) {
            const auto found = sheets.find(sheet_id(number));
            ASSERT_NE(found, sheets.end()) << "sheet " << number;
            EXPECT_TRUE(is_sheet(*found->second, number, kField)) << "sheet " << number;
        }
        const auto database = records::Database::open(season_, records::Access::read);
        auto check = database->prepare("PRAGMA integrity_check");
        ASSERT_TRUE(check.ok() && *check->step());
        EXPECT_EQ(check->text(0), "ok");
    }

    TemporaryFolder folder_{"disk_full"};
    std::string season_;
    std::unique_ptr<ServedProcess> server_;
    std::unique_ptr<http::Client> client_;
    int last_ = 0;
    std::vector<int> acknowledged_;
};

// A limit on the length of files, as administrators set it, fails writes as a disk does.
TEST_F(DiskFull, FilesThatMayNotGrowFailTheWriteAndNotTheServer) {
    serve(folder_ / "season.beet");
    send_well(++last_);
    for (int round = 0; round < 3; ++round) {
        ASSERT_TRUE(server_->limit_files(fs::file_size(season_ + "-wal") + 1000));
        std::string answer;
        const int refused = send_until_refused(answer);
        ASSERT_GT(refused, 0);
        EXPECT_EQ(status_of(answer), 503) << answer;
        EXPECT_NE(answer.find("the disk could not be read or written; nothing was changed"),
                  std::string::npos)
            << answer;
        EXPECT_FALSE(is_received(refused));
        EXPECT_EQ(status("/api/v1/ledger?field=Upper%20Sallow"), 200);
        EXPECT_EQ(status_of(send(*client_, refused)), 503);
        ASSERT_TRUE(server_->limit_files(std::nullopt));
        send_well(refused);
        EXPECT_TRUE(is_received(refused));
    }
    expect_what_was_acknowledged();
}

/// A disk of a few MB, seen by this program and those that it starts; gone with them. What is in
/// the way where there can be none.
std::string small_disk(const std::string& path) {
    const auto user = std::to_string(getuid());
    const bool is_root = geteuid() == 0;
    if (::unshare(is_root ? CLONE_NEWNS : CLONE_NEWNS | CLONE_NEWUSER) != 0) {
        return std::string("no mounts of its own: ") + std::strerror(errno);
    }
    if (!is_root) {
        std::ofstream("/proc/self/uid_map") << "0 " + user + " 1";
    }
    fs::create_directories(path);
    if (::mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0 ||
        ::mount("none", path.c_str(), "tmpfs", 0, "size=16m") != 0) {
        return std::string("no disk of its own: ") + std::strerror(errno);
    }
    return {};
}

class SmallDisk : public DiskFull {
 protected:
    void SetUp() override {
        if (const auto why = small_disk(disk_); !why.empty()) {
            GTEST_SKIP() << why;
        }
        serve(disk_ + "/season.beet", disk_ + "/log");
    }
    void TearDown() override {
        server_.reset();
        ::umount2(disk_.c_str(), MNT_DETACH);
    }
    void fill() const {
        std::ofstream out(disk_ + "/filler", std::ios::app);
        const std::string block(512, 'x');
        while (out << block << std::flush) {
        }
    }
    void make_room() const { fs::remove(disk_ + "/filler"); }

    std::string disk_ = folder_ / "disk";
};

// The log lies on the same disk: nothing can be written of the refusals either.
TEST_F(SmallDisk, RefusesInPlainWordsAndGoesOnOnceThereIsRoom) {
    for (int round = 0; round < 3; ++round) {
        fill();
        std::string answer;
        const int refused = send_until_refused(answer);
        ASSERT_GT(refused, 0);
        EXPECT_EQ(status_of(answer), 503) << answer;
        EXPECT_NE(answer.find("the disk is full; nothing was changed"), std::string::npos)
            << answer;
        EXPECT_NE(answer.find("make room and try again"), std::string::npos) << answer;
        EXPECT_FALSE(is_received(refused));
        EXPECT_EQ(status("/api/v1/ledger?field=Upper%20Sallow"), 200);
        make_room();
        send_well(refused);
    }
    expect_what_was_acknowledged();
}

// So much that it is written out before it is whole: then the whole write is undone in its midst.
TEST_F(SmallDisk, RefusesWhatFillsItHalfWay) {
    std::string rows = "sheet,field,at,spot,topping\\n";
    constexpr int beets = 90'000;
    for (int beet = 0; beet < beets; ++beet) {
        rows += sheet_id(1).text() + "," + kField + ",2031-10-05T09:00:00Z,1,correct\\n";
    }
    const auto body = R"({"beets.csv": ")" + rows + R"("})";
    fill();
    client_->say(post("/api/v1/observations", body));
    const auto answer = client_->hear();
    EXPECT_EQ(status_of(answer), 503) << answer;
    EXPECT_NE(answer.find("the disk is full; nothing was changed"), std::string::npos) << answer;
    EXPECT_FALSE(is_received(1));
    make_room();
    send_well(2);
    client_->say(post("/api/v1/observations", body));
    EXPECT_EQ(status_of(client_->hear()), 200);
    EXPECT_TRUE(is_received(1));
}

// Several share a write: none of them may be told that it is safe.
TEST_F(SmallDisk, ManyAtOnceAreRefusedTogetherAndTakenTogether) {
    fill();
    constexpr int tablets = 8;
    constexpr int sheets_each = 40;
    std::atomic<int> refused = 0;
    std::mutex mutex;
    const auto send_all = [&] {
        std::vector<std::jthread> senders;
        for (int t = 0; t < tablets; ++t) {
            senders.emplace_back([&, t] {
                http::Client client(server_->port());
                for (int i = 0; i < sheets_each; ++i) {
                    const int number = 1 + t * sheets_each + i;
                    const auto answer = send(client, number);
                    const std::lock_guard lock(mutex);
                    if (answer.ends_with("{\"new\":1,\"known\":0}\n")) {
                        acknowledged_.push_back(number);
                    }
                    refused += status_of(answer) == 503 ? 1 : 0;
                }
            });
        }
    };
    send_all();
    EXPECT_GT(refused, 0);
    make_room();
    refused = 0;
    send_all();
    EXPECT_EQ(refused, 0);
    EXPECT_EQ(acknowledged_.size(), std::size_t{tablets} * sheets_each);
    expect_what_was_acknowledged();
}

}  // namespace
}  // namespace beetwright::serve
