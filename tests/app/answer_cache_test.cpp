#include "app/answer_cache.hpp"

#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <thread>
#include <vector>

#include "app/people_fixture.hpp"
#include "app/routes.hpp"
#include "app/sync_routes.hpp"
#include "demo_season/invent.hpp"
#include "io/questions.hpp"
#include "io/season_folder.hpp"

namespace beetwright::app {
namespace {

using http::Response;

Response says(std::string body, int status = 200) {
    return {.status = status, .body = std::move(body), .headers = {}};
}
Stamp stamp(std::int64_t revision) {
    return {revision, std::nullopt};
}

TEST(AnswerCache, AnswersAgainUntilTheStampChanges) {
    AnswerCache cache(100'000);
    int made = 0;
    const auto make = [&] { return says(std::to_string(++made)); };
    EXPECT_EQ(cache.get("a", stamp(1), make).body, "1");
    EXPECT_EQ(cache.get("a", stamp(1), make).body, "1");
    EXPECT_EQ(cache.get("b", stamp(1), make).body, "2");
    EXPECT_EQ(cache.get("a", stamp(2), make).body, "3");
    EXPECT_EQ(cache.hits(), 1);
    Stamp measured = stamp(2);
    measured.amounts.emplace().area = 10.0 * unit::ha;
    EXPECT_EQ(cache.get("a", measured, make).body, "4");
    measured.amounts->of(ledger::Amount::soil).number.mean = 0.1;
    EXPECT_EQ(cache.get("a", measured, make).body, "5");
    EXPECT_EQ(cache.get("a", measured, make).body, "5");
}

TEST(AnswerCache, KeepsNoRefusalAndNoFailure) {
    AnswerCache cache(100'000);
    EXPECT_EQ(cache.get("a", stamp(1), [] { return says("no", 404); }).status, 404);
    EXPECT_THROW(
        cache.get("a", stamp(1), []() -> Response { throw std::runtime_error("as asked"); }),
        std::runtime_error);
    EXPECT_EQ(cache.get("a", stamp(1), [] { return says("yes"); }).body, "yes");
    EXPECT_EQ(cache.hits(), 0);
}

TEST(AnswerCache, HoldsNoMoreThanItMay) {
    constexpr std::size_t most = 200'000;
    AnswerCache cache(most);
    const auto make = [] { return says(std::string(20'000, 'x')); };
    for (int i = 0; i < 100; ++i) {
        cache.get("key " + std::to_string(i), stamp(1), make);
        EXPECT_LE(cache.bytes(), most);
        cache.get("key 0", stamp(1), make);  // asked for all the time, so it stays
    }
    EXPECT_GT(cache.bytes(), most / 2);
    EXPECT_EQ(cache.hits(), 100);
    cache.get("long", stamp(1), [] { return says(std::string(most + 1, 'x')); });
    EXPECT_LE(cache.bytes(), most);
    cache.get("key 0", stamp(1), make);
    EXPECT_EQ(cache.hits(), 101);
}

TEST(AnswerCache, ManyAtOnceWaitForOne) {
    AnswerCache cache(100'000);
    std::atomic<int> made = 0;
    std::atomic<int> right = 0;
    {
        std::vector<std::jthread> askers;
        for (int i = 0; i < 8; ++i) {
            askers.emplace_back([&] {
                const auto answer = cache.get("a", stamp(1), [&] {
                    std::this_thread::sleep_for(std::chrono::milliseconds(100));
                    ++made;
                    return says("once");
                });
                right += answer.body == "once" ? 1 : 0;
            });
        }
    }
    EXPECT_EQ(made, 1);
    EXPECT_EQ(right, 8);
}

/// A served season, asked by way of the cache and, beside it, anew from the file.
class CachedAnswers : public SeasonOfPeople {
 protected:
    void SetUp() override {
        SeasonOfPeople::SetUp();
        auto file = records::SeasonFile::open(path(), records::OpenMode::create);
        ASSERT_TRUE(file.ok());
        const auto invented = demo::invent(3, UnitSystem::metric, demo::loss_physics(Catalogue{}));
        ASSERT_TRUE(file->import(invented.season).ok());
        keeper_ = SeasonKeeper::open(path()).value();
        add_reading_routes(access_, *keeper_, cache_);
        add_sync_routes(access_, *keeper_, cache_, [] { return Instant{}; });
        const auto& fields = invented.season.fields;
        for (const std::size_t f : {0UL, 1UL, fields.size() / 2, fields.size() - 1}) {
            fields_.push_back(fields[f].name);
        }
    }

    Response ask(http::Method method, std::string_view path,
                 const std::map<std::string, std::string>& query, std::string body = {}) {
        http::Request request;
        request.method = method;
        request.target = *http::parse_target(path);
        request.target.query = query;
        request.peer = "127.0.0.1";
        request.headers = {{"host", "127.0.0.1"}, {"x-beetwright", "1"}};
        request.body = std::move(body);
        return access_.answer(request);
    }
    void send(int number, const std::string& field, const std::string& supersedes = "") {
        const std::string rows = "sheet,supersedes,field,at,spot,topping,tip_break [cm]\n" +
                                 id_of(number) + "," + supersedes + "," + field +
                                 ",2031-10-05T09:00:00Z,1,too deep,2-4\n";
        const auto sent = ask(http::Method::post, "/api/v1/observations", {},
                              nlohmann::json{{"beets.csv", rows}}.dump());
        ASSERT_EQ(sent.status, 200) << sent.body;
    }
    static std::string id_of(int number) {
        char id[40];
        std::snprintf(id, sizeof id, "01900000-0000-7000-8000-%012d", number);
        return id;
    }

    /// Every question, of every field asked here, twice.
    void expect_as_fresh(const std::string& when) {
        const auto file = records::SeasonFile::open(path(), records::OpenMode::read_only);
        const auto season = *file->load();
        std::vector<std::pair<std::string, std::map<std::string, std::string>>> questions{
            {"enough", {{"spots", "1/10,0/10"}}},
            {"crowns", {{"heights", "4,5.5,6,-1,3"}}},
            {"constants", {{"start", "tip."}}},
            {"settlement", {}}};
        for (const auto& field : fields_) {
            questions.push_back({"ledger", {{"field", field}}});
            questions.push_back({"ledger", {{"field", field}, {"slice_in", "90d"}}});
            questions.push_back({"check", {{"field", field}}});
        }
        for (const auto& [name, parameters] : questions) {
            const auto fresh = io::answer_question(season, name, parameters);
            for (int time = 0; time < 2; ++time) {
                const auto answer = ask(http::Method::get, "/api/v1/" + name, parameters);
                ASSERT_EQ(answer.status == 200, fresh.ok()) << when << ": " << answer.body;
                EXPECT_TRUE(!fresh || answer.body == fresh->body)
                    << when << ": " << name << " " << parameters.begin()->second;
            }
        }
        const auto files = ask(http::Method::get, "/api/v1/season", {});
        EXPECT_EQ(nlohmann::json::parse(files.body),
                  nlohmann::json(io::write_season(season, UnitSystem::metric)))
            << when;
    }

    std::shared_ptr<AnswerCache> cache_ = std::make_shared<AnswerCache>(16U << 20U);
    std::unique_ptr<SeasonKeeper> keeper_;
    Access access_ = Access::open();
    std::vector<std::string> fields_;
};

TEST_F(CachedAnswers, AreThoseOfTheFileWhateverHappensToIt) {
    expect_as_fresh("at first");
    send(1, fields_[0]);
    send(2, fields_[1]);
    expect_as_fresh("after two sheets");
    send(3, fields_[2], id_of(1));
    expect_as_fresh("after a correction that moves a sheet to another field");
    const auto constants = ask(http::Method::put, "/api/v1/season/constants.csv", {},
                               "id,value,low,high,why\ntip.exponent,2.3,2.1,2.5,measured here\n");
    ASSERT_EQ(constants.status, 200) << constants.body;
    expect_as_fresh("after a constant of its own");
    auto file = records::SeasonFile::open(path(), records::OpenMode::existing);
    auto season = *file->load();
    season.fields.back().area = Area(season.fields.back().area.si() * 2.0);
    season.fields.front().machine = season.fields.back().machine;
    ASSERT_TRUE(file->import(season).ok());
    send(4, fields_[3]);
    expect_as_fresh("after an import beside the server and a sheet");
}

TEST_F(CachedAnswers, AreKeptWhileOthersSync) {
    const auto check = [&](const std::string& field) {
        return ask(http::Method::get, "/api/v1/check", {{"field", field}}).status;
    };
    const auto ledger = [&](const std::string& field) {
        return ask(http::Method::get, "/api/v1/ledger", {{"field", field}}).status;
    };
    send(1, fields_[0]);
    send(2, fields_[1]);
    ASSERT_EQ(check(fields_[0]), 200);
    ASSERT_EQ(ledger(fields_[0]), 200);
    ASSERT_EQ(check(fields_[1]), 200);
    ASSERT_EQ(cache_->hits(), 0);
    send(3, fields_[1]);
    EXPECT_EQ(check(fields_[0]), 200);
    EXPECT_EQ(cache_->hits(), 1);
    EXPECT_EQ(ledger(fields_[0]), 200);
    EXPECT_EQ(cache_->hits(), 2) << "all that was counted in the other was counted here, too";
    EXPECT_EQ(check(fields_[1]), 200);
    EXPECT_EQ(cache_->hits(), 2);
}

}  // namespace
}  // namespace beetwright::app
