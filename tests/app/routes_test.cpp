// The routes on the demo season, as a program or a browser asks them.
#include "app/routes.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>
#include <vector>

#include "app/metrics.hpp"
#include "demo_season/invent.hpp"
#include "http/client.hpp"
#include "http/server.hpp"

namespace beetwright::app {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

class RoutesTest : public ::testing::Test {
 protected:
    void SetUp() override {
        folder_ = fs::temp_directory_path() / ("beetwright_routes_" + std::to_string(getpid()));
        fs::create_directories(folder_);
        import(demo::invent(1, UnitSystem::metric, demo::loss_physics(Catalogue{})).season);
        auto keeper = SeasonKeeper::open(path());
        ASSERT_TRUE(keeper.ok()) << keeper.problems()[0].text();
        keeper_ = std::move(*keeper);
        add_every_route(access_, {.keeper = *keeper_,
                                  .files = files_,
                                  .people = nullptr,
                                  .clock = [] { return Instant{}; },
                                  .metrics = metrics_,
                                  .connections = [] { return std::size_t{0}; }});
    }
    void TearDown() override { fs::remove_all(folder_); }

    [[nodiscard]] std::string path() const { return (folder_ / "season.beet").string(); }
    void import(const ledger::Season& season) const {
        auto file = records::SeasonFile::open(path(), records::OpenMode::create);
        ASSERT_TRUE(file.ok());
        const auto imported = file->import(season);
        ASSERT_TRUE(imported.ok()) << imported.problems()[0].text();
    }
    [[nodiscard]] http::Response get(std::string_view target) const {
        http::Request request;
        request.target = *http::parse_target(target);
        request.peer = "127.0.0.1";
        request.headers["host"] = "127.0.0.1:8080";
        return access_.answer(request);
    }
    [[nodiscard]] Json must_get(std::string_view target) const {
        const auto response = get(target);
        EXPECT_EQ(response.status, 200) << response.body;
        EXPECT_EQ(response.type, "application/json");
        return Json::parse(response.body);
    }
    /// The problem that a request is refused with, alone.
    [[nodiscard]] Json refused(std::string_view target, int status) const {
        const auto response = get(target);
        EXPECT_EQ(response.status, status) << response.body;
        const auto problems = Json::parse(response.body).at("problems");
        EXPECT_EQ(problems.size(), 1U);
        EXPECT_FALSE(problems[0].at("fix").get<std::string>().empty());
        return problems[0];
    }

    fs::path folder_;
    std::unique_ptr<SeasonKeeper> keeper_;
    AppFiles files_;
    Metrics metrics_;
    Access access_ = Access::open();
};

double tails_cost(const Json& ledger) {
    for (const auto& line : ledger.at("fields").at(0).at("lines")) {
        if (line.at("line") == "tails") {
            return line.at("cost_at_slicing_money_per_ha").at("value").get<double>();
        }
    }
    return 0.0;
}

TEST_F(RoutesTest, LedgerOfAFieldByTheDayOfSlicing) {
    const auto soon = must_get("/api/v1/ledger?field=Upper%20Sallow&slice_in=2d");
    const auto late = must_get("/api/v1/ledger?field=Upper%20Sallow&slice_in=120d");
    EXPECT_EQ(soon.at("fields").size(), 1U);
    EXPECT_EQ(soon.at("fields")[0].at("name"), "Upper Sallow");
    EXPECT_GT(tails_cost(late), 1.3 * tails_cost(soon));
    EXPECT_EQ(must_get("/api/v1/ledger?by=machine").at("by_machine").size(), 2U);
}

TEST_F(RoutesTest, ChecksAndSettlements) {
    EXPECT_TRUE(must_get("/api/v1/check?field=Upper%20Sallow").is_object());
    EXPECT_GT(must_get("/api/v1/settlement").at("total_cents").get<std::int64_t>(), 0);
}

TEST_F(RoutesTest, SayWhatIsWrongWithAQuestion) {
    EXPECT_EQ(refused("/api/v1/ledger?field=uper%20sallow", 404).at("kind"), "missing");
    EXPECT_EQ(refused("/api/v1/ledger?slice_in=soon", 400).at("field"), "slice_in");
    EXPECT_EQ(refused("/api/v1/ledger?by=colour", 400).at("field"), "by");
    EXPECT_EQ(refused("/api/v1/ledger?feild=x", 400).at("field"), "feild");
    EXPECT_EQ(refused("/api/v1/report?units=imperial", 400).at("field"), "units");
    EXPECT_EQ(get("/api/v1/nothing").status, 404);
}

TEST_F(RoutesTest, ReportIsThePageAndMayRunNothing) {
    const auto page = get("/api/v1/report?units=us");
    EXPECT_EQ(page.status, 200);
    EXPECT_NE(page.body.find("short ton/acre"), std::string::npos);
    bool is_held = false;
    for (const auto& [name, value] : page.headers) {
        is_held = is_held ||
                  (name == "Content-Security-Policy" && value.starts_with("default-src 'none'"));
    }
    EXPECT_TRUE(is_held);
    EXPECT_EQ(get("/").status, 303);
}

TEST_F(RoutesTest, AnImportIsSeenAtOnce) {
    const auto before = must_get("/api/v1/ledger");
    auto season = (*keeper_->season())->season;
    season.fields[0].area = 2.0 * season.fields[0].area;
    import(season);
    const auto after = must_get("/api/v1/ledger");
    EXPECT_NE(before.at("season").at("area_ha"), after.at("season").at("area_ha"));
    // Unchanged, it is not read again.
    EXPECT_EQ(*keeper_->season(), *keeper_->season());
}

TEST_F(RoutesTest, OverRealSocketsWhileTheSeasonIsWritten) {
    Metrics metrics;
    auto server = http::Server::start(
        {}, [this](const http::Request& request) { return access_.answer(request); },
        [&](const http::Exchange& exchange) { metrics.note(exchange); });
    ASSERT_TRUE(server.ok());
    std::atomic<int> right = 0;
    std::vector<std::thread> readers;
    for (int t = 0; t < 3; ++t) {
        readers.emplace_back([&] {
            http::Client client((*server)->port());
            for (int i = 0; i < 5; ++i) {
                client.say("GET /api/v1/settlement HTTP/1.1\r\nHost: localhost\r\n\r\n");
                right += client.hear().starts_with("HTTP/1.1 200 ") ? 1 : 0;
            }
        });
    }
    auto season = (*keeper_->season())->season;
    for (int i = 0; i < 5; ++i) {
        season.fields[0].area = (10.0 + i) * unit::ha;
        import(season);
    }
    for (auto& reader : readers) {
        reader.join();
    }
    (*server)->stop();
    EXPECT_EQ(right, 15);
    EXPECT_NE(metrics.text(0).find("beetwright_answers_total{status=\"2xx\"} 15\n"),
              std::string::npos)
        << metrics.text(0);
}

TEST(SeasonKeeper, SaysThatThereIsNoSeason) {
    EXPECT_FALSE(SeasonKeeper::open("/nowhere/season.beet").ok());
}

}  // namespace
}  // namespace beetwright::app
