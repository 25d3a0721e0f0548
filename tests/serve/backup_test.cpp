// A season file copied while tablets sync: the copy is a season, and holds all that was
// acknowledged before the copying began.
#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <set>
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
const std::string kProgram = std::string(BEETWRIGHT_BINARY_DIR) + "/beetwright";

class Backup : public ::testing::Test {
 protected:
    void SetUp() override {
        ASSERT_TRUE(make_demo_season(BEETWRIGHT_BINARY_DIR, folder_, season_));
        server_ = ServedProcess::start(BEETWRIGHT_BINARY_DIR, season_);
        ASSERT_NE(server_, nullptr);
    }
    int back_up(const std::string& to) {
        return run_program({kProgram, "backup", "--season", season_, "--to", to}, told_);
    }
    std::string told() {
        std::ifstream in(told_);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    /// Files of the folder that are neither what was made nor what a server holds open.
    int strangers(const std::set<std::string>& known) {
        int count = 0;
        for (const auto& entry : fs::directory_iterator(fs::path(season_).parent_path())) {
            const auto name = entry.path().filename().string();
            count += known.contains(name) || name.starts_with("season.beet") || name == "demo" ||
                             name == "told"
                         ? 0
                         : 1;
        }
        return count;
    }
    /// Sends sheets as long as it lives, from `first` on.
    std::jthread tablet(int first) {
        return std::jthread([this, first](const std::stop_token& stop) {
            http::Client client(server_->port());
            for (int number = first; !stop.stop_requested(); ++number) {
                client.say(post("/api/v1/observations", sheet_json(number, kField)));
                if (status_of(client.hear()) != 200) {
                    ++refused_;
                    return;
                }
                ++acknowledged_;
            }
        });
    }
    /// The sheets, by number from `first` on without a gap, that a season file holds whole.
    static int sheets_from(int first, const ledger::Season& season) {
        int next = first;
        for (const auto& sheet : season.beet_sheets) {
            if (is_sheet(sheet, next, kField)) {
                ++next;
            }
        }
        return next - first;
    }

    TemporaryFolder folder_{"backup"};
    std::string season_ = folder_ / "season.beet";
    std::string told_ = folder_ / "told";
    std::unique_ptr<ServedProcess> server_;
    std::atomic<int> acknowledged_ = 0;
    std::atomic<int> refused_ = 0;
};

TEST_F(Backup, HoldsAllThatWasAcknowledgedBefore) {
    const auto sending = tablet(1);
    int before = 0;
    int during = 0;
    for (int round = 0; round < 5; ++round) {
        std::this_thread::sleep_for(std::chrono::milliseconds(300));
        const auto copy = folder_ / ("copy" + std::to_string(round) + ".beet");
        before = acknowledged_;
        ASSERT_EQ(back_up(copy), 0) << told();
        during += acknowledged_ - before;

        const auto database = records::Database::open(copy, records::Access::read);
        auto check = database->prepare("PRAGMA integrity_check");
        ASSERT_TRUE(check.ok() && *check->step());
        EXPECT_EQ(check->text(0), "ok");
        const auto file = records::SeasonFile::open(copy, records::OpenMode::read_only);
        ASSERT_TRUE(file.ok()) << file.problems()[0].text();
        EXPECT_GE(sheets_from(1, *file->load()), before) << "round " << round;
    }
    EXPECT_GT(before, 0);
    EXPECT_GT(during, 0) << "nobody could sync while the copy was made";
    EXPECT_EQ(refused_, 0);
}

TEST_F(Backup, IsServedAsTheSeasonItself) {
    {
        const auto sending = tablet(1);
        std::this_thread::sleep_for(std::chrono::milliseconds(200));
    }
    const auto copy = folder_ / "copy.beet";
    ASSERT_EQ(back_up(copy), 0) << told();
    // Nothing lies beside it, and the copy is as private as the original.
    EXPECT_EQ(strangers({"copy.beet"}), 0);
    EXPECT_EQ(fs::status(copy).permissions(), fs::status(season_).permissions());
    const auto asked = get("/api/v1/ledger?field=Upper%20Sallow", "Connection: close\r\n");
    const auto body_from = [&](const ServedProcess& server) {
        http::Client client(server.port());
        client.say(asked);
        const auto answer = client.hear();
        return answer.substr(std::min(answer.size(), answer.find("\r\n\r\n")));
    };
    const auto original = body_from(*server_);
    EXPECT_NE(original.find("\"tails\""), std::string::npos);
    const auto other = ServedProcess::start(BEETWRIGHT_BINARY_DIR, copy);
    ASSERT_NE(other, nullptr);
    EXPECT_EQ(body_from(*other), original);
}

TEST_F(Backup, OverwritesNothing) {
    const auto there = folder_ / "there";
    std::ofstream(there) << "mine";
    EXPECT_EQ(back_up(there), 1);
    EXPECT_NE(told().find("there already"), std::string::npos) << told();
    std::string kept;
    std::ifstream(there) >> kept;
    EXPECT_EQ(kept, "mine");
    EXPECT_EQ(back_up(season_), 1) << "a copy onto itself";
}

TEST_F(Backup, SaysWhyItCannot) {
    EXPECT_EQ(back_up(folder_ / "no/such/folder.beet"), 3);
    EXPECT_NE(told().find("folder"), std::string::npos) << told();
    EXPECT_EQ(run_program(
                  {kProgram, "backup", "--season", folder_ / "none", "--to", folder_ / "copy.beet"},
                  told_),
              1);
    EXPECT_NE(told().find("no such season file"), std::string::npos) << told();
    const auto stranger = folder_ / "stranger";
    std::ofstream(stranger) << std::string(5000, 'x');
    EXPECT_EQ(run_program({kProgram, "backup", "--season", stranger, "--to", folder_ / "copy.beet"},
                          told_),
              1);
    EXPECT_EQ(strangers({"stranger"}), 0) << "something was left behind";
}

// Killed in the midst, it leaves no file under the name of the copy unless that is whole.
TEST_F(Backup, KilledInTheMidstLeavesNoHalfCopy) {
    const auto start = std::chrono::steady_clock::now();
    ASSERT_EQ(back_up(folder_ / "first"), 0) << told();
    const auto takes = std::chrono::duration_cast<std::chrono::microseconds>(
        std::chrono::steady_clock::now() - start);
    int whole = 0;
    int absent = 0;
    for (int kill = 0; kill < 40; ++kill) {
        const auto copy = folder_ / ("copy" + std::to_string(kill));
        run_program_for(takes * kill / 25, {kProgram, "backup", "--season", season_, "--to", copy});
        if (!fs::exists(copy)) {
            ++absent;
            continue;
        }
        ++whole;
        const auto file = records::SeasonFile::open(copy, records::OpenMode::read_only);
        ASSERT_TRUE(file.ok() && file->load().ok()) << "kill " << kill;
    }
    std::printf("of 40 copies %d were there, %d were not\n", whole, absent);
    EXPECT_GT(absent, 0);
}

}  // namespace
}  // namespace beetwright::serve
