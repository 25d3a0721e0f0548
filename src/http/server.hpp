// A server for people on a farm's network and, behind a proxy, beyond: HTTP/1.1, kept small and
// hard to bring down. The library that does the talking is seen in server.cpp alone.
#pragma once

#include <chrono>
#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "http/message.hpp"

namespace beetwright::http {

struct ServerOptions {
    std::string address = "127.0.0.1";  ///< loopback unless told otherwise
    std::uint16_t port = 0;             ///< 0: any that is free
    unsigned workers = 2;               ///< threads that answer; talking needs none of them
    std::size_t most_header_bytes = std::size_t{16} * 1024;
    std::size_t most_body_bytes = std::size_t{8} * 1024 * 1024;
    /// Of all bodies that arrive or are being answered at one time: what strangers can fill.
    std::size_t most_body_bytes_at_once = std::size_t{64} * 1024 * 1024;
    std::size_t most_connections = 256;
    /// Of the connections, those from one address, so that no one keeps all others out. A whole
    /// address also where it is long: all of a farm's machines may share its first half.
    std::size_t most_connections_of_one = 64;
    /// Addresses that may have all of them: by default this machine's own, from which a proxy
    /// speaks for many.
    std::function<bool(std::string_view peer)> speaks_for_many = is_loopback;
    std::size_t most_streams = 64;  ///< of the connections; who asks for one more gets a 503
    /// From the first byte that may come to the last of the header, and so also how long a
    /// connection may be idle.
    std::chrono::milliseconds header_time{15'000};
    std::chrono::milliseconds body_time{30'000};  ///< for the body to arrive
    std::chrono::milliseconds write_time{
        30'000};  ///< for the answer, or a part of a stream, to be taken
    std::chrono::milliseconds stream_pause{100};  ///< between looks at a stream
    std::chrono::milliseconds stop_time{5'000};   ///< for answers under way when told to stop
};

/// One request and its answer, for the log.
struct Exchange {
    std::string peer;
    std::string method;
    std::string target;
    int status = 0;
    std::size_t bytes = 0;  ///< of the answer's body
    std::chrono::microseconds took{};
    bool is_stream = false;  ///< took as long as somebody listened, which says nothing of us
};

class Server {
 public:
    /// Called on worker threads, several at once. What it throws becomes a 500.
    using Answer = std::function<Response(const Request&)>;
    /// Called after each answer, on the talking thread; must not wait.
    using Log = std::function<void(const Exchange&)>;

    /// Listens and answers from now on. Problem: the address or port is taken or not ours.
    static Result<std::unique_ptr<Server>> start(const ServerOptions& options, Answer answer,
                                                 Log log);
    virtual ~Server() = default;

    [[nodiscard]] virtual std::uint16_t port() const = 0;
    [[nodiscard]] virtual std::size_t connections() const = 0;
    /// Takes no more connections, lets answers under way finish, ends streams, then closes. Waits
    /// for it.
    virtual void stop() = 0;

 protected:
    Server() = default;
};

}  // namespace beetwright::http
