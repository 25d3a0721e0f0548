#include "http/router.hpp"

#include <gtest/gtest.h>

namespace beetwright::http {
namespace {

TEST(Target, IsTakenApart) {
    const auto target = parse_target("/fields/Long%20Acre/ledger?slice_in=120d&by=a+b%26c&flag");
    ASSERT_TRUE(target.has_value());
    EXPECT_EQ(target->segments, (std::vector<std::string>{"fields", "Long Acre", "ledger"}));
    EXPECT_EQ(target->query.at("slice_in"), "120d");
    EXPECT_EQ(target->query.at("by"), "a b&c");
    EXPECT_EQ(target->query.at("flag"), "");
    EXPECT_TRUE(parse_target("/")->segments.empty());
    EXPECT_EQ(parse_target("/a/")->segments.size(), 1U);
    // A plus sign is a plus sign in a path.
    EXPECT_EQ(parse_target("/a+b")->segments[0], "a+b");
    EXPECT_TRUE(parse_target("/a?")->query.empty());
}

TEST(Target, RefusesTricks) {
    for (const char* text :
         {"", "fields", "http://other/", "*", "/..", "/a/../b", "/%2e%2e/", "/a%2fb", "/a%00b",
          "/%", "/%4", "/%zz", "//", "/a//b", "/a?x=1&x=2", "/a?x=%g0", "/./a"}) {
        EXPECT_FALSE(parse_target(text).has_value()) << text;
    }
}

TEST(Request, FindsItsCookies) {
    Request request;
    request.headers["cookie"] = "theme=dark; session=abc; sessions=x";
    EXPECT_EQ(request.cookie("session"), "abc");
    EXPECT_EQ(request.cookie("theme"), "dark");
    EXPECT_EQ(request.cookie("ession"), "");
    EXPECT_EQ(Request{}.cookie("session"), "");
}

Handler says(std::string words) {
    return [words = std::move(words)](const Request&, const PathValues& values) {
        std::string body = words;
        for (const auto& [name, value] : values) {
            body += ' ' + name + '=' + value;
        }
        return Response{.body = body, .headers = {}};
    };
}

Router router() {
    Router router;
    router.add(Method::get, "/", says("home"));
    router.add(Method::get, "/fields/{name}", says("field"));
    router.add(Method::get, "/fields/all", says("all"));
    router.add(Method::post, "/fields/{name}", says("write"));
    return router;
}

Response ask(Method method, std::string_view path) {
    Request request;
    request.method = method;
    request.target = *parse_target(path);
    return router().answer(request);
}

TEST(Router, TakesTheRouteThatFitsAndWordsBeforeNames) {
    EXPECT_EQ(ask(Method::get, "/").body, "home");
    EXPECT_EQ(ask(Method::get, "/fields/Long%20Acre").body, "field name=Long Acre");
    EXPECT_EQ(ask(Method::get, "/fields/all").body, "all");
    EXPECT_EQ(ask(Method::head, "/fields/all").body, "all");
    EXPECT_EQ(ask(Method::post, "/fields/all").body, "write name=all");
}

TEST(Router, SaysWhatIsNotThereAndWhatIsAllowed) {
    EXPECT_EQ(ask(Method::get, "/fields").status, 404);
    EXPECT_EQ(ask(Method::get, "/fields/a/b").status, 404);
    const auto response = ask(Method::remove, "/fields/x");
    EXPECT_EQ(response.status, 405);
    ASSERT_EQ(response.headers.size(), 1U);
    EXPECT_EQ(response.headers[0].second, "GET, HEAD, POST");
}

TEST(Router, ListsItsRoutes) {
    EXPECT_EQ(router().routes(),
              (std::vector<std::string>{"GET /", "GET /fields/{name}", "GET /fields/all",
                                        "POST /fields/{name}"}));
}

}  // namespace
}  // namespace beetwright::http
