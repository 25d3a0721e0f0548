// The program given what nobody sends in earnest. Each time it says no in time, answers the next,
// and its memory stays within bounds. What the server does with single bytes is in
// tests/http/server_test.cpp; here it is the whole program, and what it makes of bodies.
#include <gtest/gtest.h>

#include <chrono>
#include <fstream>
#include <memory>
#include <string>
#include <thread>
#include <vector>

#include "base/random.hpp"
#include "serve/numbered_sheets.hpp"
#include "serve/served_process.hpp"

namespace beetwright::serve {
namespace {

using std::chrono::steady_clock;
constexpr std::size_t kMuch = 7'900'000;  // just within the limit of a body
#if defined(__SANITIZE_ADDRESS__)
constexpr long kMostMemory_kB = 2'000'000;  // the sanitizer keeps what was freed
constexpr auto kInTime = std::chrono::seconds(60);
#else
constexpr long kMostMemory_kB = 250'000;
constexpr auto kInTime = std::chrono::seconds(10);
#endif

std::string repeated(const std::string& part, std::size_t bytes) {
    std::string out;
    while (out.size() + part.size() <= bytes) {
        out += part;
    }
    return out;
}
std::string beets(const std::string& rows) {
    return R"({"beets.csv": "sheet,field,at,spot,topping\n)" + rows + R"("})";
}

class Abuse : public ::testing::Test {
 protected:
    void SetUp() override {
        ASSERT_TRUE(make_demo_season(BEETWRIGHT_BINARY_DIR, folder_, season_));
        server_ = ServedProcess::start(BEETWRIGHT_BINARY_DIR, season_);
        ASSERT_NE(server_, nullptr);
    }
    [[nodiscard]] std::string ask(const std::string& bytes) const {
        http::Client client(server_->port());
        client.say(bytes);
        return client.hear();
    }
    /// It runs, it answers, and its memory has never been more than it should.
    void expect_well(const std::string& after) const {
        ASSERT_TRUE(server_->is_running()) << after;
        EXPECT_TRUE(ask(get("/healthz")).ends_with("well\n")) << after;
        EXPECT_LT(server_->memory_kb("VmHWM"), kMostMemory_kB) << after;
    }
    void expect_refused(const std::string& name, const std::string& bytes, int status) const {
        const auto start = steady_clock::now();
        const auto answer = ask(bytes);
        EXPECT_EQ(status_of(answer), status) << name << "\n" << answer.substr(0, 500);
        EXPECT_LT(answer.size(), 200'000U) << name;
        EXPECT_LT(steady_clock::now() - start, kInTime) << name;
        expect_well(name);
    }
    void expect_body_refused(const std::string& name, const std::string& body,
                             int status = 400) const {
        expect_refused(name, post("/api/v1/observations", body), status);
    }

    TemporaryFolder folder_{"abuse"};
    std::string season_ = folder_ / "season.beet";
    std::unique_ptr<ServedProcess> server_;
};

TEST_F(Abuse, JsonThatWouldGrowWhenParsed) {
    const std::size_t half = kMuch / 2;
    expect_body_refused("open brackets", std::string(kMuch, '['));
    expect_body_refused("nested lists", std::string(half, '[') + std::string(half, ']'));
    expect_body_refused("nested objects", repeated(R"({"a":)", kMuch));
    expect_body_refused("empty lists", "[" + repeated("[],", kMuch - 10) + "[]]");
    expect_body_refused("numbers", "[" + repeated("1,", kMuch - 10) + "1]");
    expect_body_refused("brackets as a value",
                        R"({"beets.csv":)" + std::string(half, '[') + std::string(half, ']') + "}");
    std::string keys = "{";
    for (int i = 0; keys.size() < kMuch - 20; ++i) {
        keys += "\"" + std::to_string(i) + "\":\"\",";
    }
    expect_body_refused("keys", keys + R"("last":""})");
    expect_body_refused("10 MB of brackets", std::string(10'000'000, '['), 413);
    expect_refused("brackets as terms",
                   "PUT" + post("/api/v1/season/terms.json", std::string(kMuch, '[')).substr(4),
                   400);
}

TEST_F(Abuse, JsonThatIsNone) {
    expect_body_refused("nothing", "");
    expect_body_refused("cut off", R"({"beets.csv": "sheet,fi)");
    expect_body_refused("a number too large", R"({"beets.csv": 1e999})");
    expect_body_refused("half an escape", R"({"beets.csv": "\u12"})");
    expect_body_refused("half a pair", R"({"beets.csv": "\ud800"})");
    expect_body_refused("a key twice", R"({"beets.csv": "", "beets.csv": ""})");
    expect_body_refused("a file elsewhere", R"({"../../etc/passwd": "x"})");
    RandomStream random(1, "abuse");
    std::string garbage;
    for (std::size_t i = 0; i < kMuch; ++i) {
        garbage += static_cast<char>(random.below(256));
    }
    expect_body_refused("noise", garbage);
    expect_body_refused("noise in a string",
                        R"({"beets.csv": ")" + garbage.substr(0, 1000) + "\"}");
}

TEST_F(Abuse, TablesThatAreNone) {
    expect_body_refused("rows of one letter", beets(repeated("x\\n", kMuch)));
    expect_body_refused("an endless row", beets(std::string(kMuch, ',')));
    expect_body_refused("an open quote", beets("\\\"" + std::string(kMuch, 'a')));
    expect_body_refused("an endless header", R"({"beets.csv": ")" + repeated("a,", kMuch) + "\"}");
    expect_body_refused("unknown fields",
                        beets(repeated("s,No Such Field,2031-10-05T09:00:00Z,1,shaved\\n", kMuch)));
    expect_body_refused("noughts", beets(std::string("\\u0000\\u0000")));
    std::string sheets;
    for (int i = 0; sheets.size() < kMuch - 200; ++i) {
        sheets += sheet_id(i).text() + ",Upper Sallow,2031-13-05T09:00:00Z,1,correct\\n";
    }
    expect_body_refused("many sheets, each with a wrong day", beets(sheets));
}

TEST_F(Abuse, HeadersAndPaths) {
    expect_refused("a long header", get("/healthz", "X: " + std::string(100'000, 'a') + "\r\n"),
                   431);
    expect_refused("a long path", get("/" + std::string(100'000, 'a')), 431);
    expect_refused("many headers", get("/healthz", repeated("A: b\r\n", 100'000)), 431);
    expect_refused("dots", get("/../../etc/passwd"), 400);
    expect_refused("coded dots", get("/api/v1/%2e%2e/%2e%2e/etc/passwd"), 400);
    expect_refused("a coded slash", get("/api%2fv1%2fledger"), 400);
    expect_refused("half a code", get("/api/v1/ledger?field=%f"), 400);
    expect_refused("a coded nought", get("/api/v1/ledger?field=%00"), 400);
    expect_refused("no UTF-8", get("/api/v1/ledger?field=%ff%fe"), 404);
    expect_refused("a parameter twice", get("/api/v1/ledger?field=a&field=b"), 400);
    expect_refused("a number too large", get("/api/v1/ledger?slice_in=99999999999999999999d"), 400);
    expect_refused("an unknown method", "BREW / HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n", 403);
    expect_refused("another's host", "GET /healthz HTTP/1.1\r\nHost: example.org\r\n\r\n", 403);
    expect_refused(
        "a length that is none",
        "POST /api/v1/observations HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 1e9\r\n\r\n",
        400);
    expect_refused("two lengths",
                   "POST /api/v1/observations HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 3\r\n"
                   "Content-Length: 4\r\n\r\nabcd",
                   400);
    expect_refused("a file that sets nothing",
                   "PUT" + post("/api/v1/season/..%5cpasswd", "x").substr(4), 404);
}

// People with the page open, and others who hold on to all they can get.
TEST_F(Abuse, ManyWhoNeverEnd) {
    std::vector<std::unique_ptr<http::Client>> others;
    const std::string head =
        "POST /api/v1/observations HTTP/1.1\r\nHost: 127.0.0.1\r\n"
        "X-Beetwright: 1\r\nContent-Length: 7900000\r\n\r\n";
    const std::string most_of_it(7'800'000, '[');
    for (int i = 0; i < 40; ++i) {
        others.push_back(std::make_unique<http::Client>(server_->port()));
        others.back()->say(head);
        others.back()->say(most_of_it);  // fails where it was refused
    }
    expect_well("bodies that never end");
    for (int i = 0; i < 150; ++i) {
        others.push_back(std::make_unique<http::Client>(server_->port()));
        others.back()->say("GET /healthz HTTP/1.1\r\nX-");
    }
    expect_well("headers that never end");
    others.clear();
    // More than may connect, who say nothing; then they leave.
    for (int i = 0; i < 400; ++i) {
        others.push_back(std::make_unique<http::Client>(server_->port()));
    }
    others.clear();
    bool is_answered = false;
    for (int tries = 0; tries < 100 && !is_answered; ++tries) {
        is_answered = ask(get("/healthz")).ends_with("well\n");
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    EXPECT_TRUE(is_answered);
    expect_well("many connections");
    EXPECT_EQ(server_->stop(), 0);
}

// Those who ask for long answers and never take them.
TEST_F(Abuse, AnswersThatNobodyTakes) {
    std::vector<std::unique_ptr<http::Client>> others;
    std::string all;
    for (int i = 0; i < 50; ++i) {
        all += get("/api/v1/season");
    }
    for (int i = 0; i < 100; ++i) {
        others.push_back(std::make_unique<http::Client>(server_->port()));
        others.back()->say(all);
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(500));
    expect_well("answers that nobody takes");
}

TEST_F(Abuse, ALogThatNobodyCanWrite) {
    const auto other =
        ServedProcess::start(BEETWRIGHT_BINARY_DIR, season_, {.core = {}, .log = "/dev/full"});
    ASSERT_NE(other, nullptr);
    http::Client client(other->port());
    for (int i = 0; i < 3; ++i) {
        client.say(get("/healthz"));
        EXPECT_TRUE(client.hear().ends_with("well\n")) << "answer " << i;
    }
}

}  // namespace
}  // namespace beetwright::serve
