// Bodies that are made while they are sent: to many at once, to the slow, to those who leave.
#include <gtest/gtest.h>

#include <atomic>
#include <functional>
#include <memory>
#include <string>
#include <thread>
#include <vector>

#include "http/client.hpp"
#include "http/server.hpp"

namespace beetwright::http {
namespace {

using std::chrono::milliseconds;
using std::chrono::steady_clock;

class StreamTest : public ::testing::Test {
 protected:
    void start(ServerOptions options = {}) {
        options.workers = 1;
        options.stream_pause = milliseconds(5);
        auto started = Server::start(
            options, [this](const Request& request) { return answer(request); },
            [this](const Exchange& exchange) {
                last_bytes_ = exchange.bytes;
                ++(exchange.is_stream ? streams_told_ : answers_told_);
            });
        ASSERT_TRUE(started.ok()) << started.problems()[0].text();
        server_ = std::move(*started);
    }
    /// `/count` counts to three; `/silent` never says anything; `/flood` never stops.
    Response answer(const Request& request) {
        const std::string what = request.target.segments.empty() ? "" : request.target.segments[0];
        Response response{.type = "text/event-stream", .body = "", .headers = {}};
        if (what == "count") {
            response.stream = [i = 0]() mutable -> std::optional<std::string> {
                ++i;
                return i > 6 ? std::nullopt
                             : std::optional(i % 2 == 0 ? std::to_string(i / 2) : "");
            };
        } else if (what == "silent" || what == "flood") {
            const auto open = std::make_shared<Open>(open_);
            const std::string part(what == "flood" ? 1'000'000 : 0, 'x');
            response.stream = [open, part] { return std::optional(part); };
        } else {
            response.body = "plain";
        }
        return response;
    }
    /// Counts the streams that are held.
    struct Open {
        explicit Open(std::atomic<int>& among) : count(among) { ++count; }
        Open(const Open&) = delete;
        Open& operator=(const Open&) = delete;
        ~Open() { --count; }
        std::atomic<int>& count;
    };

    static std::string get(const std::string& target, const std::string& method = "GET") {
        return method + " " + target + " HTTP/1.1\r\nHost: x\r\n\r\n";
    }
    [[nodiscard]] std::string ask(const std::string& bytes) const {
        Client client(server_->port());
        client.say(bytes);
        return client.hear();
    }
    [[nodiscard]] bool soon(const std::function<bool()>& is_so) const {
        for (int tries = 0; tries < 500 && !is_so(); ++tries) {
            std::this_thread::sleep_for(milliseconds(10));
        }
        return is_so();
    }

    std::atomic<int> open_ = 0;
    std::atomic<std::size_t> last_bytes_ = 0;
    std::atomic<int> streams_told_ = 0;
    std::atomic<int> answers_told_ = 0;
    std::unique_ptr<Server> server_;
};

TEST_F(StreamTest, SendsWhatThereIsAndEndsWithTheConnection) {
    start();
    const auto heard = ask(get("/count"));
    EXPECT_TRUE(heard.starts_with("HTTP/1.1 200 OK\r\n")) << heard;
    EXPECT_NE(heard.find("Content-Type: text/event-stream\r\n"), std::string::npos);
    EXPECT_NE(heard.find("Connection: close\r\n"), std::string::npos);
    EXPECT_EQ(heard.find("Content-Length"), std::string::npos);
    EXPECT_TRUE(heard.ends_with("\r\n\r\n123")) << heard;
    EXPECT_TRUE(soon([this] { return last_bytes_ == 3U; })) << "the log counts what was streamed";
    EXPECT_TRUE(ask(get("/count", "HEAD")).ends_with("\r\n\r\n"));
}

TEST_F(StreamTest, IsToldApartFromAnswersAndFromItsRefusal) {
    ServerOptions options;
    options.most_streams = 1;
    start(options);
    EXPECT_TRUE(ask(get("/count")).ends_with("123"));
    EXPECT_TRUE(ask(get("/else")).ends_with("plain"));
    EXPECT_TRUE(soon([this] { return streams_told_ == 1 && answers_told_ == 1; }));
    Client listener(server_->port());
    listener.say(get("/silent"));
    ASSERT_TRUE(soon([this] { return open_ == 1; }));
    EXPECT_TRUE(ask(get("/silent")).starts_with("HTTP/1.1 503 "));
    EXPECT_TRUE(soon([this] { return answers_told_ == 2; }));
    EXPECT_EQ(streams_told_, 1) << "the one that is listened to is not over";
}

TEST_F(StreamTest, HoldsNoWorker) {
    start();  // with one worker
    std::vector<std::unique_ptr<Client>> listeners;
    for (int i = 0; i < 20; ++i) {
        listeners.push_back(std::make_unique<Client>(server_->port()));
        listeners.back()->say(get("/silent"));
    }
    EXPECT_TRUE(soon([this] { return open_ == 20; }));
    EXPECT_TRUE(ask(get("/else")).ends_with("plain"));
}

TEST_F(StreamTest, WhoLeavesIsNoticedThoughNothingIsSaid) {
    start();
    {
        Client client(server_->port());
        client.say(get("/silent"));
        ASSERT_TRUE(soon([this] { return open_ == 1; }));
    }
    EXPECT_TRUE(soon([this] { return open_ == 0; }));
    EXPECT_TRUE(soon([this] { return server_->connections() == 0U; }));
}

TEST_F(StreamTest, WhoDoesNotReadIsDropped) {
    ServerOptions options;
    options.write_time = milliseconds(200);
    start(options);
    Client client(server_->port());
    client.say(get("/flood"));
    ASSERT_TRUE(soon([this] { return open_ == 1; }));
    EXPECT_TRUE(soon([this] { return open_ == 0; })) << "it was never read, and still is sent";
    EXPECT_TRUE(ask(get("/else")).ends_with("plain"));
}

TEST_F(StreamTest, NoMoreListenAtOnceThanMay) {
    ServerOptions options;
    options.most_streams = 2;
    start(options);
    auto first = std::make_unique<Client>(server_->port());
    first->say(get("/silent"));
    Client second(server_->port());
    second.say(get("/silent"));
    ASSERT_TRUE(soon([this] { return open_ == 2; }));
    EXPECT_TRUE(ask(get("/silent")).starts_with("HTTP/1.1 503 "));
    first.reset();
    EXPECT_TRUE(soon([this] { return ask(get("/count")).starts_with("HTTP/1.1 200 "); }));
}

TEST_F(StreamTest, AStopEndsStreamsAtOnceWhetherReadOrNot) {
    start();
    Client silent(server_->port());
    silent.say(get("/silent"));
    Client flooded(server_->port());
    flooded.say(get("/flood"));
    ASSERT_TRUE(soon([this] { return open_ == 2; }));
    std::this_thread::sleep_for(milliseconds(300));  // until nothing more fits on the way
    const auto before = steady_clock::now();
    server_->stop();
    EXPECT_LT(steady_clock::now() - before, milliseconds(2000));
    EXPECT_EQ(open_, 0);
    EXPECT_TRUE(silent.is_closed());
    EXPECT_TRUE(flooded.is_closed());
}

}  // namespace
}  // namespace beetwright::http
