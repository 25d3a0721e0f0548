// Who may use which route: every route with everybody, and whose requests are believed.
#include "app/access.hpp"

#include <gtest/gtest.h>

#include <array>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <vector>

#include "app/access_fixture.hpp"
#include "app/secrets.hpp"

namespace beetwright::app {
namespace {

using namespace std::chrono_literals;
using http::Method;
using Headers = std::map<std::string, std::string>;

struct Expected {
    const char* method;
    const char* path;  ///< with values where the pattern has names
    const char* pattern;
    Needs least;
};

// Written by hand, beside what the routes say of themselves: a new route needs a row here.
constexpr std::array kExpected{
    Expected{"GET", "/", "/", Needs::anyone},
    Expected{"GET", "/service-worker.js", "/service-worker.js", Needs::anyone},
    Expected{"GET", "/manifest.webmanifest", "/manifest.webmanifest", Needs::anyone},
    Expected{"GET", "/icon.svg", "/icon.svg", Needs::anyone},
    Expected{"GET", "/assets/x", "/assets/{file}", Needs::anyone},
    Expected{"GET", "/healthz", "/healthz", Needs::anyone},
    Expected{"GET", "/metrics", "/metrics", Needs::anyone},
    Expected{"GET", "/api/v1/report", "/api/v1/report", Needs::viewer},
    Expected{"GET", "/api/v1/ledger", "/api/v1/ledger", Needs::viewer},
    Expected{"GET", "/api/v1/check", "/api/v1/check", Needs::viewer},
    Expected{"GET", "/api/v1/settlement", "/api/v1/settlement", Needs::viewer},
    Expected{"GET", "/api/v1/enough", "/api/v1/enough", Needs::viewer},
    Expected{"GET", "/api/v1/crowns", "/api/v1/crowns", Needs::viewer},
    Expected{"GET", "/api/v1/next", "/api/v1/next", Needs::viewer},
    Expected{"GET", "/api/v1/constants", "/api/v1/constants", Needs::viewer},
    Expected{"GET", "/api/v1/sky", "/api/v1/sky", Needs::viewer},
    Expected{"GET", "/api/v1/standing", "/api/v1/standing", Needs::viewer},
    Expected{"GET", "/api/v1/setup", "/api/v1/setup", Needs::viewer},
    Expected{"GET", "/api/v1/advice", "/api/v1/advice", Needs::viewer},
    Expected{"GET", "/api/v1/machine", "/api/v1/machine", Needs::viewer},
    Expected{"GET", "/api/v1/response", "/api/v1/response", Needs::viewer},
    Expected{"GET", "/api/v1/weather_days", "/api/v1/weather_days", Needs::viewer},
    Expected{"GET", "/api/v1/weather", "/api/v1/weather", Needs::viewer},
    Expected{"PUT", "/api/v1/weather/x", "/api/v1/weather/{part}", Needs::manager},
    Expected{"DELETE", "/api/v1/weather/x", "/api/v1/weather/{part}", Needs::manager},
    Expected{"GET", "/api/v1/ground", "/api/v1/ground", Needs::viewer},
    Expected{"GET", "/api/v1/ground/relief", "/api/v1/ground/relief", Needs::viewer},
    Expected{"GET", "/api/v1/ground/zones", "/api/v1/ground/zones", Needs::viewer},
    Expected{"PUT", "/api/v1/ground/x", "/api/v1/ground/{part}", Needs::manager},
    Expected{"DELETE", "/api/v1/ground/x", "/api/v1/ground/{part}", Needs::manager},
    Expected{"GET", "/api/v1/season", "/api/v1/season", Needs::viewer},
    Expected{"PUT", "/api/v1/season/x", "/api/v1/season/{file}", Needs::manager},
    Expected{"PUT", "/api/v1/season/x/y", "/api/v1/season/{file}/{name}", Needs::manager},
    Expected{"DELETE", "/api/v1/season/x/y", "/api/v1/season/{file}/{name}", Needs::manager},
    Expected{"POST", "/api/v1/observations", "/api/v1/observations", Needs::operator_},
    Expected{"GET", "/api/v1/received", "/api/v1/received", Needs::viewer},
    Expected{"POST", "/api/v1/photos", "/api/v1/photos", Needs::operator_},
    Expected{"GET", "/api/v1/photos", "/api/v1/photos", Needs::viewer},
    Expected{"GET", "/api/v1/photos/x", "/api/v1/photos/{id}", Needs::viewer},
    Expected{"POST", "/api/v1/jobs", "/api/v1/jobs", Needs::viewer},
    Expected{"GET", "/api/v1/jobs/x", "/api/v1/jobs/{id}", Needs::viewer},
    Expected{"GET", "/api/v1/jobs/x/result", "/api/v1/jobs/{id}/result", Needs::viewer},
    Expected{"DELETE", "/api/v1/jobs/x", "/api/v1/jobs/{id}", Needs::viewer},
    Expected{"GET", "/api/v1/jobs/x/events", "/api/v1/jobs/{id}/events", Needs::viewer},
    Expected{"POST", "/api/v1/session", "/api/v1/session", Needs::anyone},
    Expected{"DELETE", "/api/v1/session", "/api/v1/session", Needs::anyone},
    Expected{"GET", "/api/v1/me", "/api/v1/me", Needs::viewer},
    Expected{"POST", "/api/v1/me/password", "/api/v1/me/password", Needs::viewer},
    Expected{"DELETE", "/api/v1/me/sessions", "/api/v1/me/sessions", Needs::viewer},
    Expected{"GET", "/api/v1/people", "/api/v1/people", Needs::manager},
    Expected{"PUT", "/api/v1/people/x", "/api/v1/people/{id}", Needs::owner},
    Expected{"POST", "/api/v1/people/x/link", "/api/v1/people/{id}/link", Needs::owner},
    Expected{"POST", "/api/v1/invitations", "/api/v1/invitations", Needs::manager},
    Expected{"GET", "/api/v1/invitations/x", "/api/v1/invitations/{token}", Needs::anyone},
    Expected{"POST", "/api/v1/invitations/x", "/api/v1/invitations/{token}", Needs::anyone},
    Expected{"GET", "/api/v1/audit", "/api/v1/audit", Needs::owner},
};

Method method_named(std::string_view name) {
    for (const auto method : {Method::get, Method::head, Method::post, Method::put}) {
        if (http::name_of(method) == name) {
            return method;
        }
    }
    return Method::remove;
}

TEST_F(AccessTest, EveryRouteIsInTheTableWithTheRoleItNeeds) {
    std::vector<std::string> expected;
    for (const auto& row : kExpected) {
        expected.push_back(std::string(row.method) + " " + row.pattern + " " +
                           std::string(word_of(row.least)));
    }
    std::vector<std::string> found;
    for (const auto& route : access_->routes()) {
        found.push_back(std::string(http::name_of(route.method)) + " " + route.pattern + " " +
                        std::string(word_of(route.needs)));
    }
    std::ranges::sort(expected);
    std::ranges::sort(found);
    EXPECT_EQ(found, expected);
}

TEST_F(AccessTest, EveryRouteIsOnTheReferencePage) {
    std::ifstream in(BEETWRIGHT_SOURCE_DIR "/docs/formats/api.md");
    const std::string page{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    for (const auto& route : access_->routes()) {
        const auto row = "\n| `" + std::string(http::name_of(route.method)) + " " + route.pattern +
                         "` | " + std::string(word_of(route.needs)) + " |";
        EXPECT_NE(page.find(row), std::string::npos) << row;
    }
}

/// Nobody and one of each role, each with a session of its own.
struct Asker {
    std::optional<Role> role;
    std::string name;
    Uuid id = {};
};

TEST_F(AccessTest, EveryRouteForEverybody) {
    auto store = records::PeopleStore::open(path()).value();
    std::vector<Asker> askers{{.role = std::nullopt, .name = "nobody"}};
    for (const auto& named : kRoles) {
        askers.push_back({named.role, std::string(named.word), random_id(now_.load())});
        ASSERT_TRUE(
            store.add({askers.back().id, askers.back().name, named.role, now_.load()}, "x").ok());
    }
    int asked = 0;
    for (const auto& row : kExpected) {
        for (const auto& asker : askers) {
            // A session for each request, because some end it.
            const std::string token = asker.role ? random_token() : "";
            if (asker.role) {
                ASSERT_TRUE(store
                                .add({hash_token(token), asker.id, now_.load(), now_.load(),
                                      now_.load() + kSessionLasts})
                                .ok());
            }
            auto asks = request(method_named(row.method), row.path, "", token);
            asks.peer = "127.0.0.1";
            const int status = access_->answer(asks).status;
            const auto where = asker.name + ": " + row.method + " " + row.path;
            if (row.least == Needs::anyone ||
                (asker.role && static_cast<int>(*asker.role) >= static_cast<int>(row.least))) {
                EXPECT_TRUE(status != 401 && status != 403 && status < 500)
                    << where << " gave " << status;
            } else {
                EXPECT_EQ(status, asker.role ? 403 : 401) << where;
            }
            ++asked;
        }
    }
    EXPECT_EQ(asked, 5 * static_cast<int>(kExpected.size()));
}

TEST_F(AccessTest, ARefusalIsAProblemInJson) {
    const auto nobody = ask(Method::get, "/api/v1/ledger");
    EXPECT_EQ(nobody.status, 401);
    EXPECT_EQ(Json::parse(nobody.body).at("problems")[0].at("kind"), "denied");
    EXPECT_FALSE(header_of(nobody, "WWW-Authenticate").empty());
    const auto anna = first_owner(*people_);
    const auto bert = join(*people_, "Bert", Role::viewer, anna.person);
    const auto viewer = ask(Method::get, "/api/v1/people", "", bert.token);
    EXPECT_EQ(viewer.status, 403);
    EXPECT_EQ(Json::parse(viewer.body).at("problems")[0].at("what"),
              "this needs the role of manager; Bert is viewer");
    EXPECT_EQ(ask(Method::head, "/api/v1/ledger").status, 401);
    EXPECT_EQ(ask(Method::other, "/api/v1/ledger", "", anna.token).status, 405);
    EXPECT_EQ(ask(Method::get, "/api/v1/nothing").status, 404);
}

TEST_F(AccessTest, WhatChangesSomethingMustComeFromAPageOfThisServer) {
    struct Case {
        Headers headers;
        int status;
    };
    // 400: let through, and then the empty body is no JSON.
    const std::vector<Case> cases{
        {{{"x-beetwright", "1"}}, 400},
        {{{"x-beetwright", "1"}, {"origin", "http://beets.example"}}, 400},
        {{{"x-beetwright", "1"}, {"origin", "https://beets.example"}}, 400},
        {{{"x-beetwright", "1"}, {"sec-fetch-site", "same-origin"}}, 400},
        {{}, 403},
        {{{"x-beetwright", "0"}}, 403},
        {{{"origin", "http://beets.example"}, {"sec-fetch-site", "same-origin"}}, 403},
        {{{"x-beetwright", "1"}, {"origin", "http://evil.example"}}, 403},
        {{{"x-beetwright", "1"}, {"origin", "http://beets.example:81"}}, 403},
        {{{"x-beetwright", "1"}, {"origin", "http://beets.example.evil.example"}}, 403},
        {{{"x-beetwright", "1"}, {"origin", "null"}}, 403},
        {{{"x-beetwright", "1"}, {"sec-fetch-site", "same-site"}}, 403},
        {{{"x-beetwright", "1"}, {"sec-fetch-site", "cross-site"}}, 403},
        {{{"x-beetwright", "1"}, {"sec-fetch-site", "none"}}, 403},
    };
    for (const auto method : {Method::post, Method::put, Method::remove}) {
        for (const auto& [headers, status] : cases) {
            auto asks = request(method, method == Method::put    ? "/api/v1/people/x"
                                        : method == Method::post ? "/api/v1/session"
                                                                 : "/api/v1/me/sessions");
            asks.headers = headers;
            asks.headers["host"] = "beets.example";
            const bool through = status == 400;
            const int answered = access_->answer(asks).status;
            EXPECT_EQ(answered, !through                 ? 403
                                : method == Method::post ? 400
                                                         : 401)
                << http::name_of(method) << " " << Json(headers).dump();
        }
    }
    auto reads = request(Method::get, "/healthz");
    reads.headers = {{"origin", "http://evil.example"}, {"sec-fetch-site", "cross-site"}};
    EXPECT_EQ(access_->answer(reads).status, 200) << "reading changes nothing";
}

TEST_F(AccessTest, TheCookieIsOutOfReachOfScriptsAndOtherSites) {
    const auto token = people_->first_invitation().value().value();
    const auto joined = ask(Method::post, "/api/v1/invitations/" + token,
                            R"({"name": "Anna", "password": "beets in rows"})");
    ASSERT_EQ(joined.status, 200) << joined.body;
    const auto cookie = header_of(joined, "Set-Cookie");
    EXPECT_TRUE(cookie.starts_with("beetwright_session=")) << cookie;
    for (const char* flag : {"; Path=/;", "; HttpOnly", "; SameSite=Strict", "; Max-Age=2592000"}) {
        EXPECT_NE(cookie.find(flag), std::string::npos) << cookie;
    }
    EXPECT_EQ(cookie.find("Secure"), std::string::npos) << "there is no TLS";
    EXPECT_EQ(cookie.find("Domain"), std::string::npos);
    EXPECT_NE(make(Front::tls)->cookie("x").second.find("; Secure"), std::string::npos);

    const auto session = cookie.substr(19, 43);
    EXPECT_EQ(Json::parse(ask(Method::get, "/api/v1/me", "", session).body).at("name"), "Anna");
    EXPECT_EQ(header_of(ask(Method::get, "/api/v1/me", "", session), "Set-Cookie"), "");
    pass(2h);
    EXPECT_EQ(header_of(ask(Method::get, "/api/v1/me", "", session), "Set-Cookie"), cookie)
        << "prolonged";
    pass(2h);
    const auto out = ask(Method::remove, "/api/v1/session", "", session);
    EXPECT_TRUE(header_of(out, "Set-Cookie").starts_with("beetwright_session=; "));
    EXPECT_NE(header_of(out, "Set-Cookie").find("Max-Age=0"), std::string::npos);
    EXPECT_EQ(ask(Method::get, "/api/v1/me", "", session).status, 401);
}

TEST_F(AccessTest, BehindAProxyPeopleAreToldApart) {
    const auto behind = make(Front::tls);
    auto asks = request(Method::get, "/");
    asks.peer = "127.0.0.1";
    asks.headers["x-forwarded-for"] = "1.2.3.4, 10.0.0.9 ";
    EXPECT_EQ(behind->peer_of(asks), "10.0.0.9") << "what the proxy added, not what was sent to it";
    EXPECT_EQ(access_->peer_of(asks), "127.0.0.1") << "no proxy that we know of";
    asks.peer = "192.168.1.7";
    EXPECT_EQ(behind->peer_of(asks), "192.168.1.7") << "past the proxy";
    asks.peer = "::1";
    asks.headers["x-forwarded-for"] = " ";
    EXPECT_EQ(behind->peer_of(asks), "::1");
}

TEST_F(AccessTest, MetricsAreForTheMachineItself) {
    auto asks = request(Method::get, "/metrics");
    for (const auto& [peer, status] : std::map<std::string, int>{{"127.0.0.1", 200},
                                                                 {"::1", 200},
                                                                 {"::ffff:127.0.0.1", 200},
                                                                 {"192.168.1.7", 403},
                                                                 {"12.7.0.1", 403},
                                                                 {"::ffff:192.168.1.7", 403},
                                                                 {"?", 403}}) {
        asks.peer = peer;
        EXPECT_EQ(access_->answer(asks).status, status) << peer;
    }
    asks.peer = "127.0.0.1";
    asks.headers["x-forwarded-for"] = "192.168.1.7";
    EXPECT_EQ(access_->answer(asks).status, 403) << "by way of a proxy";
}

TEST_F(AccessTest, WithoutAccountsEverybodyOnThisMachineIsAnOwner) {
    auto opened = std::unique_ptr<Access>(new Access(Access::open()));
    add_every_route(opened, false);
    auto asks = request(Method::get, "/api/v1/me");
    asks.peer = "127.0.0.1";
    for (const char* host : {"localhost", "localhost:8080", "127.0.0.1:8080", "[::1]:8080"}) {
        asks.headers["host"] = host;
        EXPECT_EQ(opened->answer(asks).status, 200) << host;
    }
    EXPECT_EQ(Json::parse(opened->answer(asks).body).at("role"), "owner");
    // A name of another site that points to this machine.
    for (const char* host : {"evil.example", "127.evil.example", "localhost.evil.example", ""}) {
        asks.headers["host"] = host;
        EXPECT_EQ(opened->answer(asks).status, 403) << host;
    }
    asks.headers["host"] = "localhost";
    asks.headers["x-forwarded-for"] = "192.168.1.7";
    EXPECT_EQ(opened->answer(asks).status, 403) << "by way of a proxy";
    asks.headers.erase("x-forwarded-for");
    asks.peer = "192.168.1.7";
    EXPECT_EQ(opened->answer(asks).status, 403);
}

}  // namespace
}  // namespace beetwright::app
