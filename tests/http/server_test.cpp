#include "http/server.hpp"

#include <gtest/gtest.h>

#include <atomic>
#include <future>
#include <memory>
#include <mutex>
#include <stdexcept>
#include <thread>
#include <vector>

#include "http/client.hpp"

namespace beetwright::http {
namespace {

using std::chrono::milliseconds;

/// Answers with what it was asked, and does as the path says.
Response echo(const Request& request) {
    const auto& segments = request.target.segments;
    if (!segments.empty() && segments[0] == "throw") {
        throw std::runtime_error("as asked");
    }
    if (!segments.empty() && segments[0] == "slow") {
        std::this_thread::sleep_for(milliseconds(300));
    }
    std::string body = segments.empty() ? "/" : "";
    for (const auto& segment : segments) {
        body += '/' + segment;
    }
    return {.body = body + ' ' + request.body, .headers = {}};
}

struct Logged {
    std::mutex mutex;
    std::vector<Exchange> exchanges;
};

class ServerTest : public ::testing::Test {
 protected:
    void start(ServerOptions options = {}) {
        auto started = Server::start(options, echo, [this](const Exchange& exchange) {
            const std::lock_guard lock(logged_.mutex);
            logged_.exchanges.push_back(exchange);
        });
        ASSERT_TRUE(started.ok()) << started.problems()[0].text();
        server_ = std::move(*started);
    }
    [[nodiscard]] std::string ask(const std::string& bytes) const {
        Client client(server_->port());
        EXPECT_TRUE(client.is_connected());
        client.say(bytes);
        return client.hear();
    }
    static std::string get(const std::string& target) {
        return "GET " + target + " HTTP/1.1\r\nHost: x\r\n\r\n";
    }
    void expect_alive() const { EXPECT_TRUE(ask(get("/alive")).ends_with("/alive ")); }

    Logged logged_;
    std::unique_ptr<Server> server_;
};

TEST_F(ServerTest, AnswersOneRequestAfterAnother) {
    start();
    Client client(server_->port());
    client.say(get("/one"));
    const auto first = client.hear();
    EXPECT_TRUE(first.starts_with("HTTP/1.1 200 OK\r\n")) << first;
    EXPECT_NE(first.find("X-Content-Type-Options: nosniff"), std::string::npos);
    EXPECT_TRUE(first.ends_with("\r\n\r\n/one "));
    client.say("POST /two HTTP/1.1\r\nHost: x\r\nContent-Length: 4\r\n\r\nbeet");
    EXPECT_TRUE(client.hear().ends_with("/two beet"));
    // Two at once, one behind the other.
    client.say(get("/three") + get("/four"));
    EXPECT_TRUE(client.hear().ends_with("/three "));
    EXPECT_TRUE(client.hear().ends_with("/four "));
    const std::lock_guard lock(logged_.mutex);
    ASSERT_GE(logged_.exchanges.size(), 3U);
    EXPECT_EQ(logged_.exchanges[1].method, "POST");
    EXPECT_EQ(logged_.exchanges[1].target, "/two");
    EXPECT_EQ(logged_.exchanges[1].status, 200);
    EXPECT_EQ(logged_.exchanges[1].bytes, 9U);
    EXPECT_EQ(logged_.exchanges[1].peer, "127.0.0.1");
}

TEST_F(ServerTest, HeadHasTheLengthAndNoBody) {
    start();
    Client client(server_->port());
    client.say("HEAD /one HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n");
    EXPECT_TRUE(client.is_closed());
    const auto answer = client.hear();
    EXPECT_NE(answer.find("Content-Length: 5\r\n"), std::string::npos) << answer;
    EXPECT_TRUE(answer.ends_with("\r\n\r\n")) << answer;
}

TEST_F(ServerTest, WhatAHandlerThrowsIsA500AndNotTheEnd) {
    start();
    EXPECT_TRUE(ask(get("/throw")).starts_with("HTTP/1.1 500 "));
    expect_alive();
}

TEST_F(ServerTest, RefusesWhatIsNoRequest) {
    start();
    EXPECT_TRUE(ask("beets, please\r\n\r\n").starts_with("HTTP/1.1 400 "));
    EXPECT_TRUE(ask(get("/%zz")).starts_with("HTTP/1.1 400 "));
    EXPECT_TRUE(ask(get("/a/../../etc/passwd")).starts_with("HTTP/1.1 400 "));
    EXPECT_TRUE(ask(get("/%2e%2e/secret")).starts_with("HTTP/1.1 400 "));
    EXPECT_TRUE(ask("GET /x HTTP/1.1\r\nHost: x\r\nContent-Length: -5\r\n\r\n")
                    .starts_with("HTTP/1.1 400 "));
    expect_alive();
}

TEST_F(ServerTest, RefusesWhatIsTooLong) {
    ServerOptions options;
    options.most_header_bytes = 2000;
    options.most_body_bytes = 1000;
    start(options);
    EXPECT_TRUE(
        ask("GET /" + std::string(5000, 'a') + " HTTP/1.1\r\n\r\n").starts_with("HTTP/1.1 431 "));
    EXPECT_TRUE(ask("POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 1001\r\n\r\n")
                    .starts_with("HTTP/1.1 413 "));
    EXPECT_TRUE(ask("POST / HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: chunked\r\n\r\n7d0\r\n" +
                    std::string(2000, 'b') + "\r\n0\r\n\r\n")
                    .starts_with("HTTP/1.1 413 "));
    expect_alive();
}

// A header that comes a byte at a time is cut off when its time is over, and holds nobody else up.
TEST_F(ServerTest, ASlowHeaderIsCutOffAndHoldsNoOneUp) {
    ServerOptions options;
    options.workers = 1;
    options.header_time = milliseconds(400);
    start(options);
    std::vector<std::unique_ptr<Client>> slow;
    for (int i = 0; i < 40; ++i) {
        slow.push_back(std::make_unique<Client>(server_->port()));
        slow.back()->say("GET /never HTTP/1.1\r\nX-");
    }
    expect_alive();
    EXPECT_GE(server_->connections(), 40U);
    for (const auto& client : slow) {
        EXPECT_TRUE(client->is_closed());
    }
    expect_alive();
}

TEST_F(ServerTest, ASlowBodyIsCutOff) {
    ServerOptions options;
    options.body_time = milliseconds(200);
    start(options);
    Client client(server_->port());
    client.say("POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 100\r\n\r\nonly this");
    EXPECT_TRUE(client.is_closed());
    expect_alive();
}

// Bodies that never end may fill no more than the room for all of them.
TEST_F(ServerTest, BodiesTogetherHaveTheirLimit) {
    ServerOptions options;
    options.most_body_bytes = 1000;
    options.most_body_bytes_at_once = 2500;
    start(options);
    const std::string head = "POST /x HTTP/1.1\r\nHost: x\r\nContent-Length: 1000\r\n\r\n";
    std::vector<std::unique_ptr<Client>> senders;
    for (int i = 0; i < 2; ++i) {
        senders.push_back(std::make_unique<Client>(server_->port()));
        senders.back()->say(head + "only this");
    }
    const auto refused = [&](const std::string& bytes) {
        // Until the server has read the heads of those before, there may still be room.
        for (int tries = 0; tries < 100; ++tries) {
            const auto answer = ask(bytes);
            if (answer.starts_with("HTTP/1.1 503 ")) {
                EXPECT_NE(answer.find("Retry-After: "), std::string::npos);
                return true;
            }
            std::this_thread::sleep_for(milliseconds(5));
        }
        return false;
    };
    EXPECT_TRUE(refused(head + std::string(1000, 'b')));
    EXPECT_TRUE(
        refused("POST /x HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: chunked\r\n\r\n"
                "3\r\nbee\r\n0\r\n\r\n"));
    expect_alive();
    EXPECT_TRUE(
        ask("POST /x HTTP/1.1\r\nHost: x\r\nContent-Length: 4\r\n\r\nbeet").ends_with("/x beet"));
    // Their room is free again when they have gone.
    senders.front()->say(std::string(1000 - 9, 'b'));
    EXPECT_TRUE(senders.front()->hear().ends_with('b'));
    EXPECT_TRUE(ask(head + std::string(1000, 'c')).ends_with('c'));
}

TEST_F(ServerTest, TakesNoMoreConnectionsThanItMay) {
    ServerOptions options;
    options.most_connections = 3;
    start(options);
    std::vector<std::unique_ptr<Client>> first;
    for (int i = 0; i < 3; ++i) {
        first.push_back(std::make_unique<Client>(server_->port()));
        first.back()->say(get("/mine"));
        EXPECT_TRUE(first.back()->hear().ends_with("/mine "));
    }
    Client fourth(server_->port());
    EXPECT_TRUE(fourth.is_closed());
    first.clear();
    // Their places are free again as soon as the server has seen them go.
    bool answered = false;
    for (int tries = 0; tries < 100 && !answered; ++tries) {
        Client next(server_->port());
        answered = next.say(get("/next")) && next.hear().ends_with("/next ");
        std::this_thread::sleep_for(milliseconds(10));
    }
    EXPECT_TRUE(answered);
}

std::uint32_t own_address(std::uint32_t last) {
    return (INADDR_LOOPBACK & ~0xFFU) + last;
}

/// Connections from 127.0.0.<last>, each of which has been answered.
std::vector<std::unique_ptr<Client>> answered(std::uint16_t port, std::uint32_t last, int count) {
    std::vector<std::unique_ptr<Client>> all;
    for (int i = 0; i < count; ++i) {
        all.push_back(std::make_unique<Client>(port, own_address(last)));
        all.back()->say("GET /mine HTTP/1.1\r\nHost: x\r\n\r\n");
        EXPECT_TRUE(all.back()->hear().ends_with("/mine "));
    }
    return all;
}

TEST_F(ServerTest, OneAddressCannotKeepAllOthersOut) {
    ServerOptions options;
    options.most_connections = 8;
    options.most_connections_of_one = 2;
    options.speaks_for_many = [](std::string_view peer) { return peer == "127.0.0.9"; };
    start(options);
    const auto port = server_->port();
    auto idle = answered(port, 5, 2);
    EXPECT_TRUE(Client(port, own_address(5)).is_closed());
    const auto another = answered(port, 6, 2);
    const auto of_many = answered(port, 9, 4);
    EXPECT_TRUE(Client(port, own_address(7)).is_closed()) << "there are 8 in all";
    // Who leaves makes room for one of the same address.
    idle.clear();
    bool is_answered = false;
    for (int tries = 0; tries < 100 && !is_answered; ++tries) {
        Client next(port, own_address(5));
        is_answered = next.say(get("/next")) && next.hear().ends_with("/next ");
        std::this_thread::sleep_for(milliseconds(10));
    }
    EXPECT_TRUE(is_answered);
}

// A proxy on the machine itself speaks for everybody.
TEST_F(ServerTest, ThisMachineItselfMayHaveAllConnections) {
    ServerOptions options;
    options.most_connections = 8;
    options.most_connections_of_one = 2;
    start(options);
    EXPECT_EQ(answered(server_->port(), 1, 8).size(), 8U);
}

TEST(Server, KnowsTheMachinesOwnAddresses) {
    for (const char* own : {"127.0.0.1", "127.9.9.9", "::1", "::ffff:127.0.0.1"}) {
        EXPECT_TRUE(is_loopback(own)) << own;
    }
    for (const char* other : {"12.7.0.1", "192.168.1.7", "::ffff:192.168.1.7", "::", "?", ""}) {
        EXPECT_FALSE(is_loopback(other)) << other;
    }
}

TEST_F(ServerTest, StoppingLetsAnAnswerUnderWayFinish) {
    start();
    Client idle(server_->port());
    idle.say(get("/here"));
    idle.hear();
    auto answer = std::async(std::launch::async, [this] { return ask(get("/slow")); });
    std::this_thread::sleep_for(milliseconds(100));
    const auto before = std::chrono::steady_clock::now();
    const auto port = server_->port();
    server_->stop();
    EXPECT_LT(std::chrono::steady_clock::now() - before, milliseconds(2000));
    EXPECT_TRUE(answer.get().ends_with("/slow "));
    EXPECT_TRUE(idle.is_closed());
    EXPECT_FALSE(Client(port).is_connected());
}

TEST_F(ServerTest, ManyAskAtOnce) {
    ServerOptions options;
    options.workers = 4;
    start(options);
    std::atomic<int> right = 0;
    std::vector<std::thread> askers;
    for (int t = 0; t < 8; ++t) {
        askers.emplace_back([&, t] {
            Client client(server_->port());
            for (int i = 0; i < 50; ++i) {
                const auto path = '/' + std::to_string(t) + '/' + std::to_string(i);
                client.say(get(path));
                right += client.hear().ends_with(path + ' ') ? 1 : 0;
            }
        });
    }
    for (auto& asker : askers) {
        asker.join();
    }
    EXPECT_EQ(right, 400);
}

TEST(Server, SaysThatAPortIsTaken) {
    const auto first = Server::start({}, echo, {});
    ASSERT_TRUE(first.ok());
    ServerOptions same;
    same.port = (*first)->port();
    const auto second = Server::start(same, echo, {});
    ASSERT_FALSE(second.ok());
    EXPECT_EQ(second.problems()[0].where.field, "port");
    ServerOptions nowhere;
    nowhere.address = "the barn";
    EXPECT_FALSE(Server::start(nowhere, echo, {}).ok());
}

}  // namespace
}  // namespace beetwright::http
