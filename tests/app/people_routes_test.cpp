#include "app/people_routes.hpp"

#include <gtest/gtest.h>

#include <string>

#include "app/access_fixture.hpp"
#include "app/secrets.hpp"

namespace beetwright::app {
namespace {

class PeopleRoutesTest : public AccessTest {};

TEST_F(PeopleRoutesTest, PeopleThroughTheirRoutes) {
    const auto anna = first_owner(*people_);
    const auto post = [&](const char* path, const char* body) {
        return ask(Method::post, path, body, anna.token);
    };
    const auto invited = Json::parse(post("/api/v1/invitations", R"({"role": "operator"})").body);
    const auto link = invited.at("link").get<std::string>();
    ASSERT_TRUE(link.starts_with("/#/join/"));
    const auto path = "/api/v1/invitations/" + link.substr(8);
    const auto greeting = Json::parse(ask(Method::get, path).body);
    EXPECT_EQ(greeting.at("role"), "operator");
    EXPECT_EQ(greeting.at("expires"), invited.at("expires"));
    const auto bert = ask(Method::post, path, R"({"name": "Bert", "password": "beets in rows"})");
    const auto id = Json::parse(bert.body).at("id").get<std::string>();
    const auto changed = ask(Method::put, "/api/v1/people/" + id,
                             R"({"role": "manager", "active": false})", anna.token);
    EXPECT_EQ(Json::parse(changed.body).at("role"), "manager");
    EXPECT_EQ(Json::parse(changed.body).at("active"), false);
    const auto list = Json::parse(ask(Method::get, "/api/v1/people", "", anna.token).body);
    EXPECT_EQ(list.at("people").size(), 2U);
    EXPECT_EQ(list.at("people")[0].at("name"), "Anna");
    EXPECT_FALSE(list.at("people")[0].contains("password"));
    const auto audit = Json::parse(ask(Method::get, "/api/v1/audit", "", anna.token).body);
    EXPECT_EQ(audit.at("audit")[0].at("person"), "Anna");
    EXPECT_EQ(audit.at("audit")[0].at("what"), "shut out");
    EXPECT_EQ(post("/api/v1/me/password",
                   R"({"password": "not the one", "new_password": "sugar in beets"})")
                  .status,
              403);
    EXPECT_EQ(post("/api/v1/me/password",
                   R"({"password": "beets in rows", "new_password": "sugar in beets"})")
                  .status,
              200);
    EXPECT_EQ(ask(Method::put, "/api/v1/people/" + anna.person.id.text(), R"({"active": false})",
                  anna.token)
                  .status,
              409)
        << "the last owner";
    EXPECT_EQ(ask(Method::remove, "/api/v1/me/sessions", "", anna.token).status, 200);
    EXPECT_EQ(ask(Method::get, "/api/v1/me", "", anna.token).status, 401);
}

TEST_F(PeopleRoutesTest, ALinkForAForgottenPassword) {
    const auto anna = first_owner(*people_);
    const auto bert = join(*people_, "Bert", Role::viewer, anna.person);
    const auto path = "/api/v1/people/" + bert.person.id.text() + "/link";
    const auto made = Json::parse(ask(Method::post, path, "", anna.token).body);
    const auto token = made.at("link").get<std::string>().substr(8);
    const auto greeting = Json::parse(ask(Method::get, "/api/v1/invitations/" + token).body);
    EXPECT_EQ(greeting.at("name_hint"), "Bert");
    EXPECT_EQ(greeting.at("new_password"), true);
    const auto back = ask(Method::post, "/api/v1/invitations/" + token,
                          R"({"name": "Bert", "password": "sugar in beets"})");
    EXPECT_EQ(Json::parse(back.body).at("id"), bert.person.id.text());
    EXPECT_NE(header_of(back, "Set-Cookie"), "");
    EXPECT_EQ(ask(Method::post, "/api/v1/people/x/link", "", anna.token).status, 404);
}

TEST_F(PeopleRoutesTest, WhatIsSentIsReadStrictly) {
    const auto anna = first_owner(*people_);
    const auto field = [&](Method method, const char* path, std::string body) {
        const auto response = ask(method, path, std::move(body), anna.token);
        EXPECT_EQ(response.status, 400) << response.body;
        return Json::parse(response.body).at("problems")[0].value("field", "");
    };
    EXPECT_EQ(field(Method::post, "/api/v1/session", R"({"name": "Anna"})"), "password");
    EXPECT_EQ(field(Method::post, "/api/v1/session",
                    R"({"name": "Anna", "password": "beets in rows", "remember": true})"),
              "remember");
    EXPECT_EQ(field(Method::post, "/api/v1/session", R"({"name": 7, "password": "x"})"), "name");
    EXPECT_EQ(field(Method::post, "/api/v1/session?name=Anna", "{}"), "name");
    EXPECT_EQ(field(Method::post, "/api/v1/session", "[]"), "");
    EXPECT_EQ(field(Method::post, "/api/v1/session", std::string(17'000, ' ')), "");
    EXPECT_EQ(field(Method::post, "/api/v1/invitations", R"({"role": "king"})"), "role");
    EXPECT_EQ(field(Method::post, "/api/v1/invitations", R"({"role": ""})"), "role");
    EXPECT_EQ(field(Method::post, "/api/v1/invitations", R"({"role": 4})"), "role");
    EXPECT_EQ(field(Method::put, "/api/v1/people/x", "{}"), "");
    EXPECT_EQ(field(Method::put, "/api/v1/people/x", R"({"active": "no"})"), "active");
}

TEST_F(PeopleRoutesTest, AfterTooManyFailuresItIsSaidWhenToTryAgain) {
    first_owner(*people_);
    const auto sign_in = [&] {
        return ask(Method::post, "/api/v1/session", R"({"name": "Anna", "password": "wrong"})");
    };
    for (int i = 0; i < 5; ++i) {
        EXPECT_EQ(sign_in().status, 401);
    }
    const auto refused = sign_in();
    EXPECT_EQ(refused.status, 429);
    EXPECT_EQ(header_of(refused, "Retry-After"), "900");
}

TEST(Log, KeepsNoToken) {
    const std::string token = random_token();
    EXPECT_EQ(without_tokens("/api/v1/invitations/" + token + "?x=" + token),
              "/api/v1/invitations/...?x=...");
    EXPECT_EQ(without_tokens("/api/v1/ledger?field=Upper%20Sallow"),
              "/api/v1/ledger?field=Upper%20Sallow");
    EXPECT_EQ(without_tokens("/api/v1/people/01a214de-be27-7732-bd09-de4833a5ae34"),
              "/api/v1/people/01a214de-be27-7732-bd09-de4833a5ae34");
}

}  // namespace
}  // namespace beetwright::app
