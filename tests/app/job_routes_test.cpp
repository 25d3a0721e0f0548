// Long questions over HTTP: the same answer as at once, and whatever may be wrong with them.
#include <gtest/gtest.h>

#include <thread>
#include <vector>

#include "app/access_fixture.hpp"

namespace beetwright::app {
namespace {

using namespace std::chrono_literals;

class JobRoutesTest : public AccessTest {
 protected:
    void SetUp() override {
        AccessTest::SetUp();
        anna_ = first_owner(*people_);
        bert_ = join(*people_, "Bert", Role::viewer, anna_.person);
    }
    std::string must_start(const std::string& body, const std::string& token) {
        const auto started = ask(Method::post, "/api/v1/jobs", body, token);
        EXPECT_EQ(started.status, 202) << started.body;
        const auto id = Json::parse(started.body).at("id").get<std::string>();
        EXPECT_EQ(header_of(started, "Location"), "/api/v1/jobs/" + id);
        return "/api/v1/jobs/" + id;
    }
    std::string end_of(const std::string& path, const std::string& token) {
        std::string state;
        for (int tries = 0; tries < 3000; ++tries) {
            state = Json::parse(ask(Method::get, path, "", token).body).at("state");
            if (state != "waiting" && state != "running") {
                break;
            }
            std::this_thread::sleep_for(10ms);
        }
        return state;
    }

    SignedIn anna_;
    SignedIn bert_;
};

TEST_F(JobRoutesTest, AnswersAsTheQuestionItself) {
    for (const char* question : {"ledger", "report"}) {
        const auto path = must_start(
            Json{{"question", question}, {"parameters", {{"draws", 500}, {"slice_in", "3d"}}}}
                .dump(),
            bert_.token);
        ASSERT_EQ(end_of(path, bert_.token), "done");
        const auto result = ask(Method::get, path + "/result", "", bert_.token);
        const auto at_once =
            ask(Method::get, std::string("/api/v1/") + question + "?draws=500&slice_in=3d", "",
                bert_.token);
        EXPECT_EQ(at_once.status, 200);
        EXPECT_EQ(result.status, 200);
        EXPECT_EQ(result.body, at_once.body);
        EXPECT_EQ(result.type, at_once.type);
        EXPECT_EQ(result.headers, at_once.headers) << "the page is held to the same";
    }
}

TEST_F(JobRoutesTest, WhatIsWrongIsToldAtOnce) {
    struct Case {
        const char* body;
        int status;
        const char* says;
    };
    for (const auto& one : std::vector<Case>{
             {"", 400, "not JSON"},
             {"[]", 400, "not an object"},
             {"{}", 400, "this key is missing"},
             {R"({"question": "chek"})", 400, "ledger, pile, pile_order, piles, report"},
             {R"({"question": "repot"})", 400, "did you mean \\\"report\\\""},
             {R"({"question": "ledger", "draws": 1})", 400, "this key is not known"},
             {R"({"question": "ledger", "parameters": {"feld": "x"}})", 400, "parameters.feld"},
             {R"({"question": "ledger", "parameters": {"draws": "500"}})", 400, "not a number"},
             {R"({"question": "ledger", "parameters": {"draws": 500.5}})", 400, "whole number"},
             {R"({"question": "ledger", "parameters": {"draws": -500}})", 400, "whole number"},
             {R"({"question": "ledger", "parameters": {"draws": 7}})", 400, "100 to 1,000,000"},
             {R"({"question": "ledger", "parameters": {"draws": 1000001}})", 400, "1000000"},
             {R"({"question": "ledger", "parameters": {"draws": 1000000}})", 400, "MB of memory"},
             {R"({"question": "ledger", "parameters": {"field": "Nowhere"}})", 404, "no field"},
             {R"({"question": "report", "parameters": {"units": "feet"}})", 400, "units"},
             {R"({"question": "pile", "parameters": {"pile": "Nowhere"}})", 404, "no pile"},
             {R"({"question": "pile", "parameters": {"members": "many"}})", 400, "whole number"},
             {R"({"question": "piles", "parameters": {"detail": "tiny"}})", 400, "coarse, usual"},
             {R"({"question": "pile_order", "parameters": {"rate": "0"}})", 400, "over 0"}}) {
        const auto refused = ask(Method::post, "/api/v1/jobs", one.body, bert_.token);
        EXPECT_EQ(refused.status, one.status) << one.body << "\n" << refused.body;
        EXPECT_NE(refused.body.find(one.says), std::string::npos) << one.body << "\n"
                                                                  << refused.body;
    }
}

TEST_F(JobRoutesTest, MoreDrawsThanOneWaitsForAreForAJob) {
    const auto refused = ask(Method::get, "/api/v1/ledger?draws=10001", "", bert_.token);
    EXPECT_EQ(refused.status, 400);
    EXPECT_NE(refused.body.find("start a job"), std::string::npos) << refused.body;
    EXPECT_EQ(ask(Method::get, "/api/v1/ledger?draws=many", "", bert_.token).status, 400);
}

TEST_F(JobRoutesTest, CanBeFollowedAndCancelledByWhoeverStartedThem) {
    const std::string wish = R"({"question": "ledger", "parameters": {"draws": 40000}})";
    const auto path = must_start(wish, bert_.token);
    const auto cara = join(*people_, "Cara", Role::manager, anna_.person);
    EXPECT_EQ(ask(Method::get, path, "", cara.token).status, 404);
    EXPECT_EQ(ask(Method::remove, path, "", cara.token).status, 404);
    EXPECT_EQ(ask(Method::get, path, "", anna_.token).status, 200) << "an owner";
    auto events = ask(Method::get, path + "/events", "", bert_.token);
    ASSERT_TRUE(events.stream);
    EXPECT_EQ(events.type, "text/event-stream");
    EXPECT_EQ(header_of(events, "Cache-Control"), "no-store");
    std::string heard;
    while (heard.find("\"share\":0.0") == std::string::npos ||
           heard.find("running") == std::string::npos) {
        heard += events.stream().value();
        std::this_thread::sleep_for(1ms);
    }
    EXPECT_EQ(ask(Method::get, path + "/result", "", bert_.token).status, 409);
    EXPECT_EQ(ask(Method::remove, path, "", bert_.token).status, 200);
    const auto last = events.stream().value();
    EXPECT_NE(last.find("event: cancelled"), std::string::npos) << last;
    EXPECT_EQ(events.stream(), std::nullopt);
    EXPECT_EQ(ask(Method::get, path + "/result", "", bert_.token).status, 404);
    auto heard_all = request(Method::get, path + "/events", "", bert_.token);
    heard_all.headers["last-event-id"] = "104";
    EXPECT_EQ(access_->answer(heard_all).status, 204);
    EXPECT_EQ(ask(Method::remove, path, "", bert_.token).status, 200);
    EXPECT_EQ(ask(Method::get, path, "", bert_.token).status, 404);
}

TEST_F(JobRoutesTest, OnePersonHasAtMostFourUnfinished) {
    const std::string wish = R"({"question": "ledger", "parameters": {"draws": 40000}})";
    for (int i = 0; i < 4; ++i) {
        must_start(wish, bert_.token);
    }
    EXPECT_EQ(ask(Method::post, "/api/v1/jobs", wish, bert_.token).status, 429);
    must_start(wish, anna_.token);
    jobs_.stop();
    EXPECT_EQ(ask(Method::post, "/api/v1/jobs", wish, anna_.token).status, 503);
}

}  // namespace
}  // namespace beetwright::app
