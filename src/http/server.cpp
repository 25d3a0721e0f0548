#include "http/server.hpp"

#include <atomic>
#include <boost/asio/awaitable.hpp>
#include <boost/asio/bind_executor.hpp>
#include <boost/asio/co_spawn.hpp>
#include <boost/asio/detached.hpp>
#include <boost/asio/executor_work_guard.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/redirect_error.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/thread_pool.hpp>
#include <boost/asio/use_awaitable.hpp>
#include <boost/asio/write.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/core/tcp_stream.hpp>
#include <boost/beast/http.hpp>
#include <exception>
#include <map>
#include <optional>
#include <set>
#include <thread>

#include <tuple>
#include "base/lower_case.hpp"

namespace beetwright::http {
namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace wire = boost::beast::http;
using tcp = asio::ip::tcp;
using std::chrono::steady_clock;

Method method_of(wire::verb verb) {
    switch (verb) {
        case wire::verb::get: return Method::get;
        case wire::verb::head: return Method::head;
        case wire::verb::post: return Method::post;
        case wire::verb::put: return Method::put;
        case wire::verb::delete_: return Method::remove;
        default: return Method::other;
    }
}

Response refusal(int status, std::string words) {
    return {.status = status, .body = std::move(words) + "\n", .headers = {}};
}

/// The answer to a request that could not be read; nothing where nobody is there to read it.
std::optional<Response> refusal_of(const beast::error_code& error) {
    if (error == wire::error::header_limit || error == wire::error::buffer_overflow) {
        return refusal(431, "The header is too long.");
    }
    if (error == wire::error::body_limit) {
        return refusal(413, "That is more than is taken at once.");
    }
    if (error == asio::error::no_buffer_space) {
        auto busy = refusal(503, "Too much is being sent at this moment; send it again.");
        busy.headers.emplace_back("Retry-After", "5");
        return busy;
    }
    if (error == beast::error::timeout) {
        return refusal(408, "The request did not arrive in time.");
    }
    const bool is_unreadable =
        error.category() == wire::make_error_code(wire::error::bad_method).category();
    if (is_unreadable && error != wire::error::end_of_stream &&
        error != wire::error::partial_message) {
        return refusal(400, "This is not a request that is understood.");
    }
    return std::nullopt;
}

using WireRequest = wire::request<wire::string_body>;
using WireResponse = wire::response<wire::string_body>;
using Parser = wire::request_parser<wire::string_body>;
constexpr auto kAwait = asio::use_awaitable;

/// A body's share of the room for all bodies; given back when it goes.
class BodyShare {
 public:
    explicit BodyShare(std::size_t& taken) : taken_(taken) {}
    BodyShare(const BodyShare&) = delete;
    BodyShare& operator=(const BodyShare&) = delete;
    ~BodyShare() { taken_ -= own_; }
    /// Whether there is so much room yet.
    bool take(std::size_t bytes, std::size_t most) {
        if (bytes > most || taken_ > most - bytes) {
            return false;
        }
        taken_ += bytes;
        own_ += bytes;
        return true;
    }

 private:
    std::size_t& taken_;
    std::size_t own_ = 0;
};

using Connections = std::set<beast::tcp_stream*>;

/// Stands among these for as long as this lives.
class Entered {
 public:
    Entered(Connections& among, beast::tcp_stream& stream) : among_(among), stream_(&stream) {
        among_.insert(stream_);
    }
    Entered(const Entered&) = delete;
    Entered& operator=(const Entered&) = delete;
    ~Entered() { among_.erase(stream_); }

 private:
    Connections& among_;
    beast::tcp_stream* stream_;
};

std::string address_of(const tcp::socket& socket) {
    beast::error_code error;
    const auto peer = socket.remote_endpoint(error);
    return error ? std::string("?") : peer.address().to_string();
}

class BeastServer final : public Server {
 public:
    BeastServer(const ServerOptions& options, Answer answer, Log log)
        : options_(options),
          answer_(std::move(answer)),
          log_(std::move(log)),
          workers_(std::max(1U, options.workers)) {}

    ~BeastServer() override {
        try {
            stop();
        } catch (...) {
            std::terminate();  // its threads may still run, and what they work on goes now
        }
    }

    Result<Done> listen() {
        beast::error_code error;
        const auto address = asio::ip::make_address(options_.address, error);
        if (error) {
            return Problem{ProblemKind::input,
                           {.file = "", .line = 0, .field = "address"},
                           "'" + options_.address + "' is not an address",
                           "write one such as 127.0.0.1 or ::"};
        }
        const tcp::endpoint endpoint(address, options_.port);
        const auto failed = [&](const char* what) {
            return Problem{ProblemKind::outside,
                           {.file = "", .line = 0, .field = "port"},
                           options_.address + " port " + std::to_string(options_.port) + " " +
                               what + ": " + error.message(),
                           "choose another port, or stop what uses this one"};
        };
        if (acceptor_.open(endpoint.protocol(), error)) {
            return failed("cannot be opened");
        }
        if (acceptor_.set_option(asio::socket_base::reuse_address(true), error) ||
            acceptor_.bind(endpoint, error)) {
            return failed("cannot be used");
        }
        if (acceptor_.listen(asio::socket_base::max_listen_connections, error)) {
            return failed("cannot be listened to");
        }
        port_ = acceptor_.local_endpoint(error).port();
        asio::co_spawn(talking_, accept(), asio::detached);
        talker_ = std::thread([this] { talking_.run(); });
        return Done{};
    }

    [[nodiscard]] std::uint16_t port() const override { return port_; }
    [[nodiscard]] std::size_t connections() const override { return connections_; }

    void stop() override {
        if (!talker_.joinable()) {
            return;
        }
        asio::post(talking_, [this] {
            stopping_ = true;
            beast::error_code ignored;
            std::ignore = acceptor_.close(ignored);
            // Those that wait for a request and those that are streamed to are closed; those with
            // an answer under way finish it.
            for (const auto* all : {&idle_, &streaming_}) {
                for (auto* stream : *all) {
                    stream->cancel();
                }
            }
            work_.reset();
            deadline_.expires_after(options_.stop_time);
            deadline_.async_wait([this](const beast::error_code& cancelled) {
                if (!cancelled) {
                    talking_.stop();
                }
            });
            all_gone();
        });
        talker_.join();
        workers_.join();
    }

 private:
    /// Whether the last connection has gone, so that nothing holds the stop up.
    void all_gone() {
        if (stopping_ && connections_ == 0) {
            deadline_.cancel();
        }
    }

    asio::awaitable<void> accept() {
        while (!stopping_) {
            beast::error_code error;
            tcp::socket socket(talking_);
            co_await acceptor_.async_accept(socket, asio::redirect_error(kAwait, error));
            if (error == asio::error::operation_aborted || stopping_) {
                co_return;
            }
            if (error) {
                // Out of file descriptors: those that are open will close.
                asio::steady_timer pause(talking_, std::chrono::milliseconds(50));
                co_await pause.async_wait(asio::redirect_error(kAwait, error));
                continue;
            }
            const auto peer = address_of(socket);
            if (connections_ >= options_.most_connections || has_enough(peer)) {
                continue;  // closes it: whoever is there already goes first
            }
            ++connections_;
            const auto own = of_peer_.try_emplace(peer).first;
            ++own->second;
            asio::co_spawn(talking_, converse(std::move(socket), peer),
                           [this, own](const std::exception_ptr&) {
                               --connections_;
                               if (--own->second == 0) {
                                   of_peer_.erase(own);
                               }
                               all_gone();
                           });
        }
    }

    /// Whether an address has as many connections as one may have.
    [[nodiscard]] bool has_enough(const std::string& peer) const {
        const auto found = of_peer_.find(peer);
        return found != of_peer_.end() && found->second >= options_.most_connections_of_one &&
               !options_.speaks_for_many(peer);
    }

    /// One connection, request after request.
    asio::awaitable<void> converse(tcp::socket socket, std::string peer) {
        beast::error_code error;
        beast::tcp_stream stream(std::move(socket));
        beast::flat_buffer buffer(options_.most_header_bytes + std::size_t{64} * 1024);
        bool goes_on = true;
        while (goes_on && !stopping_) {
            auto start = steady_clock::now();
            Parser parser;
            parser.header_limit(static_cast<std::uint32_t>(options_.most_header_bytes));
            parser.body_limit(options_.most_body_bytes);
            BodyShare share(body_bytes_);
            co_await read(stream, buffer, parser, share, start, error);
            if (error) {
                if (const auto refused = refusal_of(error)) {
                    co_await write(stream, to_wire(*refused, parser.get(), false), error);
                    told(peer, parser.get(), *refused, start);
                }
                break;
            }
            auto response = co_await answer(parser.get(), peer);  // takes its body
            if (response.stream) {
                const auto streamed = co_await send_stream(stream, response, parser.get(), error);
                told(peer, parser.get(), response, start, streamed);  // a refusal is no stream
                break;
            }
            goes_on = parser.get().keep_alive() && !stopping_;
            co_await write(stream, to_wire(response, parser.get(), goes_on), error);
            told(peer, parser.get(), response, start);
            goes_on = goes_on && !error;
        }
        std::ignore = stream.socket().shutdown(tcp::socket::shutdown_send, error);
    }

    asio::awaitable<void> read(beast::tcp_stream& stream, beast::flat_buffer& buffer,
                               Parser& parser, BodyShare& share, steady_clock::time_point& start,
                               beast::error_code& error) {
        idle_.insert(&stream);
        stream.expires_after(options_.header_time);
        co_await wire::async_read_header(stream, buffer, parser,
                                         asio::redirect_error(kAwait, error));
        idle_.erase(&stream);
        // A connection may have been idle for long before somebody asked.
        start = steady_clock::now();
        if (error) {
            co_return;
        }
        // What comes in chunks does not say how much it will be.
        const auto length = parser.content_length().value_or(
            parser.chunked() ? options_.most_body_bytes : std::size_t{0});
        if (!share.take(length, options_.most_body_bytes_at_once)) {
            error = asio::error::no_buffer_space;
            co_return;
        }
        stream.expires_after(options_.body_time);
        if (beast::iequals(parser.get()[wire::field::expect], "100-continue")) {
            wire::response<wire::empty_body> go_on(wire::status::continue_, 11);
            co_await wire::async_write(stream, go_on, asio::redirect_error(kAwait, error));
        }
        co_await wire::async_read(stream, buffer, parser, asio::redirect_error(kAwait, error));
    }

    asio::awaitable<void> write(beast::tcp_stream& stream, WireResponse response,
                                beast::error_code& error) const {
        stream.expires_after(options_.write_time);
        co_await wire::async_write(stream, response, asio::redirect_error(kAwait, error));
    }

    /// The header, then what the stream gives for as long as it does, then the end of the
    /// connection: understood by every version of the protocol. Gives how much the stream gave.
    asio::awaitable<std::size_t> send_stream(beast::tcp_stream& stream, Response& response,
                                             const WireRequest& request, beast::error_code& error) {
        if (streaming_.size() >= options_.most_streams) {
            response = refusal(503, "Too many are listening already.");
            co_await write(stream, to_wire(response, request, false), error);
            co_return 0;
        }
        const Entered entered(streaming_, stream);
        WireResponse head = to_wire(response, request, false);
        head.erase(wire::field::content_length);
        co_await write(stream, std::move(head), error);
        std::size_t streamed = 0;
        asio::steady_timer pause(talking_);
        while (request.method() != wire::verb::head && !error && !stopping_ &&
               !has_left(stream.socket())) {
            const auto part = response.stream();
            if (!part) {
                break;
            }
            streamed += part->size();
            stream.expires_after(options_.write_time);
            co_await asio::async_write(stream, asio::buffer(*part),
                                       asio::redirect_error(kAwait, error));
            pause.expires_after(options_.stream_pause);
            beast::error_code ignored;
            co_await pause.async_wait(asio::redirect_error(kAwait, ignored));
        }
        co_return streamed;
    }

    /// Whether the other end has closed, which a stream with nothing to say would not notice.
    static bool has_left(tcp::socket& socket) {
        beast::error_code error;
        char byte = 0;
        if (socket.non_blocking(true, error)) {
            return true;
        }
        const auto there = socket.receive(asio::buffer(&byte, 1), tcp::socket::message_peek, error);
        return error != asio::error::would_block && (error || there == 0);
    }

    /// Has a worker answer while others are talked to.
    asio::awaitable<Response> answer(WireRequest& request, const std::string& peer) {
        auto target = parse_target({request.target().data(), request.target().size()});
        if (!target) {
            co_return refusal(400, "This is not a path.");
        }
        Request asked;
        asked.method = method_of(request.method());
        asked.target = std::move(*target);
        for (const auto& field : request) {
            asked.headers[lower_case({field.name_string().data(), field.name_string().size()})] =
                std::string(field.value());
        }
        asked.body = std::move(request.body());
        asked.peer = peer;
        const auto work = [this, asked = std::move(asked)]() -> asio::awaitable<Response> {
            try {
                co_return answer_(asked);
            } catch (const std::exception&) {
                co_return refusal(500, "Something went wrong here; it has been noted.");
            }
        };
        co_return co_await asio::co_spawn(workers_, work, kAwait);
    }

    static WireResponse to_wire(const Response& response, const WireRequest& request,
                                bool keep_alive) {
        WireResponse out;
        out.version(11);
        out.result(static_cast<unsigned>(response.status));
        out.set(wire::field::content_type, response.type);
        out.set("X-Content-Type-Options", "nosniff");
        for (const auto& [name, value] : response.headers) {
            out.insert(name, value);
        }
        out.keep_alive(keep_alive);
        if (request.method() == wire::verb::head) {
            out.content_length(response.body.size());
        } else {
            out.body() = response.body;
            out.prepare_payload();
        }
        return out;
    }

    void told(const std::string& peer, const WireRequest& request, const Response& response,
              steady_clock::time_point start, std::size_t streamed = 0) const {
        if (!log_) {
            return;
        }
        log_({.peer = peer,
              .method = std::string(request.method_string()),
              .target = std::string(request.target()),
              .status = response.status,
              .bytes = response.body.size() + streamed,
              .took = std::chrono::duration_cast<std::chrono::microseconds>(steady_clock::now() -
                                                                            start),
              .is_stream = static_cast<bool>(response.stream)});
    }

    ServerOptions options_;
    Answer answer_;
    Log log_;
    // Before the context, whose end takes conversations with it that stand in these.
    Connections idle_;                            ///< waiting for a request; talking thread only
    Connections streaming_;                       ///< talking thread only
    std::map<std::string, std::size_t> of_peer_;  ///< connections; talking thread only
    asio::io_context talking_{1};
    asio::executor_work_guard<asio::io_context::executor_type> work_{talking_.get_executor()};
    tcp::acceptor acceptor_{talking_};
    asio::steady_timer deadline_{talking_};
    asio::thread_pool workers_;
    std::size_t body_bytes_ = 0;  ///< that bodies have a share of; talking thread only
    std::atomic<std::size_t> connections_ = 0;
    std::atomic<bool> stopping_ = false;
    std::uint16_t port_ = 0;
    std::thread talker_;
};

}  // namespace

Result<std::unique_ptr<Server>> Server::start(const ServerOptions& options, Answer answer,
                                              Log log) {
    auto server = std::make_unique<BeastServer>(options, std::move(answer), std::move(log));
    if (auto listening = server->listen(); !listening) {
        return listening.problems();
    }
    return std::unique_ptr<Server>(std::move(server));
}

}  // namespace beetwright::http
