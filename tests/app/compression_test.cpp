// What goes over the network compressed, to whom, and what never does.
#include "app/compression.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "app/access_fixture.hpp"
#include "app/answer_cache.hpp"
#include "app/answers.hpp"
#include "http/client.hpp"
#include "http/gunzip.hpp"
#include "http/server.hpp"

namespace beetwright::app {
namespace {

class CompressionTest : public AccessTest {
 protected:
    void SetUp() override {
        AccessTest::SetUp();
        anna_ = first_owner(*people_);
        field_ = (*keeper_->season())->season.fields.front().name;
        for (auto at = field_.find(' '); at != std::string::npos; at = field_.find(' ')) {
            field_.replace(at, 1, "%20");
        }
    }
    [[nodiscard]] http::Response get(std::string_view path, const std::string& takes = "",
                                     const std::string& has = "",
                                     Method method = Method::get) const {
        auto asks = request(method, path, "", anna_.token);
        if (!takes.empty()) {
            asks.headers["accept-encoding"] = takes;
        }
        if (!has.empty()) {
            asks.headers["if-none-match"] = has;
        }
        return access_->answer(asks);
    }
    static void expect_plain(const http::Response& answer, const std::string& where) {
        EXPECT_EQ(header_of(answer, "Content-Encoding"), "") << where;
    }

    SignedIn anna_;
    std::string field_;
};

TEST_F(CompressionTest, LongAnswersGoToWhoTakesThemSo) {
    const std::vector<std::string> paths{"/api/v1/season", "/api/v1/ledger?field=" + field_,
                                         "/api/v1/constants", "/api/v1/report"};
    for (const auto& path : paths) {
        const auto plain = get(path);
        ASSERT_EQ(plain.status, 200) << path;
        ASSERT_GT(plain.body.size(), 1024U) << path;
        expect_plain(plain, path);
        EXPECT_EQ(header_of(plain, "Vary"), "Accept-Encoding") << path;
        for (const int time : {1, 2}) {
            const auto shorter = get(path, "gzip, deflate, br");
            EXPECT_EQ(header_of(shorter, "Content-Encoding"), "gzip") << path << ", time " << time;
            EXPECT_EQ(header_of(shorter, "Vary"), "Accept-Encoding") << path;
            EXPECT_EQ(shorter.type, plain.type) << path;
            EXPECT_LT(shorter.body.size(), plain.body.size() / 2) << path;
            EXPECT_EQ(http::gunzipped(shorter.body, plain.body.size()), plain.body) << path;
        }
        for (const char* takes : {"br", "gzip;q=0", "identity", "*;q=0"}) {
            const auto as_it_is = get(path, takes);
            expect_plain(as_it_is, path + " for " + takes);
            EXPECT_EQ(as_it_is.body, plain.body) << path << " for " << takes;
        }
        EXPECT_EQ(header_of(get(path, "br;q=1, *;q=0.1"), "Content-Encoding"), "gzip") << path;
    }
}

TEST_F(CompressionTest, ShortAnswersStayAsTheyAre) {
    const auto answer = get("/api/v1/enough?spots=1/10,0/10", "gzip");
    ASSERT_EQ(answer.status, 200) << answer.body;
    ASSERT_LT(answer.body.size(), 1024U);
    expect_plain(answer, "enough");
    EXPECT_EQ(header_of(answer, "Vary"), "Accept-Encoding");
    EXPECT_TRUE(Json::accept(answer.body));
}

// The tag is of the season, not of the form in which it came.
TEST_F(CompressionTest, ARevisionIsKnownInEitherForm) {
    const auto tag = header_of(get("/api/v1/season"), "ETag");
    ASSERT_FALSE(tag.empty());
    EXPECT_EQ(header_of(get("/api/v1/season", "gzip"), "ETag"), tag);
    const std::string strong = tag.substr(tag.find('"'));
    for (const auto& has : {tag, strong}) {
        for (const char* takes : {"", "gzip"}) {
            const auto known = get("/api/v1/season", takes, has);
            EXPECT_EQ(known.status, 304) << has;
            EXPECT_EQ(known.body, "");
            EXPECT_EQ(header_of(known, "ETag"), tag);
            EXPECT_EQ(header_of(known, "Vary"), "Accept-Encoding");
            expect_plain(known, "304");
        }
    }
    EXPECT_EQ(get("/api/v1/season", "gzip", "W/" + strong + "x").status, 200);
}

TEST_F(CompressionTest, OnTheWireTheLengthIsThatOfTheShorterForm) {
    const auto server = http::Server::start(
        {}, [this](const http::Request& request) { return access_->answer(request); }, {});
    ASSERT_TRUE(server.ok());
    const auto ask_over = [&](const std::string& method) {
        http::Client client((*server)->port());
        client.say(method +
                   " /api/v1/season HTTP/1.1\r\nHost: beets.example\r\nCookie: " + kSessionCookie +
                   "=" + anna_.token + "\r\nAccept-Encoding: gzip\r\nConnection: close\r\n\r\n");
        EXPECT_TRUE(client.is_closed());
        return client.hear();
    };
    const auto head_of = [](const std::string& answer) {
        return answer.substr(0, answer.find("\r\n\r\n") + 4);
    };
    const auto answer = ask_over("GET");
    const auto head = head_of(answer);
    const auto body = answer.substr(head.size());
    EXPECT_NE(head.find("Content-Encoding: gzip\r\n"), std::string::npos) << head;
    EXPECT_NE(head.find("Content-Length: " + std::to_string(body.size()) + "\r\n"),
              std::string::npos)
        << head;
    const auto plain = get("/api/v1/season").body;
    EXPECT_EQ(http::gunzipped(body, plain.size()), plain);
    EXPECT_EQ(ask_over("HEAD"), head) << "the same head, and no body";
}

// Long answers that hold names, links or who did what: docs/decisions/0012_compressed_answers.md.
TEST_F(CompressionTest, WhatHoldsASecretNeverGoesCompressed) {
    for (int i = 0; i < 20; ++i) {
        join(*people_, "Somebody with a long name " + std::to_string(i), Role::viewer,
             anna_.person);
    }
    int asked = 0;
    for (const auto& route : access_->routes()) {
        const bool is_of_people = route.pattern.starts_with("/api/v1/people") ||
                                  route.pattern.starts_with("/api/v1/me") ||
                                  route.pattern.starts_with("/api/v1/session") ||
                                  route.pattern.starts_with("/api/v1/invitations") ||
                                  route.pattern.starts_with("/api/v1/audit");
        if (!is_of_people || route.method == Method::remove) {
            continue;
        }
        auto asks = request(route.method, route.pattern, R"({"role": "viewer"})", anna_.token);
        asks.headers["accept-encoding"] = "gzip";
        expect_plain(access_->answer(asks), route.pattern);
        ++asked;
    }
    EXPECT_GE(asked, 10) << "the routes of people are among them";
    for (const char* path : {"/api/v1/people", "/api/v1/audit"}) {
        const auto answer = get(path, "gzip");
        EXPECT_GT(answer.body.size(), 1024U) << path << " is long enough for this test";
        EXPECT_TRUE(Json::accept(answer.body)) << path;
    }
}

http::Request who_takes_gzip() {
    http::Request request;
    request.headers["accept-encoding"] = "gzip";
    return request;
}

TEST(Compression, LeavesRefusalsStreamsAndWhatHasACoding) {
    const std::string text(5000, 'x');
    const auto asks = who_takes_gzip();
    EXPECT_LT(compressed(json(text), asks).body.size(), 100U);
    EXPECT_EQ(compressed(json(text, 404), asks).body, text);
    auto stream = json(text);
    stream.stream = [] { return std::optional<std::string>(); };
    EXPECT_EQ(compressed(stream, asks).body, text);
    auto brotli = json(text);
    brotli.headers.emplace_back("Content-Encoding", "br");
    const auto left = compressed(brotli, asks);
    EXPECT_EQ(left.body, text);
    EXPECT_EQ(left.headers, brotli.headers);
}

TEST(Compression, OfAKeptAnswerEachFormIsMadeOnce) {
    AnswerCache cache(1'000'000);
    int made = 0;
    const auto ask = [&](const http::Request& request) {
        return cache.get(key_of_form("ledger", request), {1, std::nullopt}, [&] {
            ++made;
            return compressed(json(std::string(5000, 'x')), request);
        });
    };
    const auto shorter = ask(who_takes_gzip()).body;
    EXPECT_EQ(ask(who_takes_gzip()).body, shorter);
    EXPECT_EQ(made, 1);
    EXPECT_EQ(ask({}).body, std::string(5000, 'x'));
    EXPECT_EQ(ask({}).body, std::string(5000, 'x'));
    EXPECT_EQ(made, 2);
}

}  // namespace
}  // namespace beetwright::app
