// A client that says exactly what it is told to, over a real socket.
#pragma once

#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <unistd.h>

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>

namespace beetwright::http {

class Client {
 public:
    /// `from`: another of this machine's own addresses at this end, 127.0.0.x.
    explicit Client(std::uint16_t port, std::uint32_t from = INADDR_LOOPBACK)
        : socket_(::socket(AF_INET, SOCK_STREAM, 0)) {
        if (from != INADDR_LOOPBACK) {
            sockaddr_in own{};
            own.sin_family = AF_INET;
            own.sin_addr.s_addr = htonl(from);
            ::bind(socket_, reinterpret_cast<const sockaddr*>(&own), sizeof own);
        }
        sockaddr_in address{};
        address.sin_family = AF_INET;
        address.sin_port = htons(port);
        address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        const timeval patience{20, 0};
        ::setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
        is_connected_ =
            ::connect(socket_, reinterpret_cast<const sockaddr*>(&address), sizeof address) == 0;
    }
    Client(const Client&) = delete;
    Client& operator=(const Client&) = delete;
    ~Client() { ::close(socket_); }

    [[nodiscard]] bool is_connected() const { return is_connected_; }

    bool say(std::string_view bytes) const {
        while (!bytes.empty()) {
            const auto sent = ::send(socket_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
            if (sent <= 0) {
                return false;
            }
            bytes.remove_prefix(static_cast<std::size_t>(sent));
        }
        return true;
    }
    /// What comes until one whole answer with a Content-Length is there, or the other side closes.
    std::string hear() {
        std::string& all = heard_;
        while (true) {
            const auto head = all.find("\r\n\r\n");
            const auto length_at = all.find("Content-Length: ");
            if (head != std::string::npos && length_at < head) {
                const std::size_t whole = head + 4 + std::stoul(all.substr(length_at + 16));
                if (all.size() >= whole) {
                    std::string one = all.substr(0, whole);
                    all.erase(0, whole);
                    return one;
                }
            }
            if (!more()) {
                return std::exchange(all, {});
            }
        }
    }
    /// Whether the other side has closed, once everything it said has been heard.
    bool is_closed() {
        while (more()) {
        }
        return over_;
    }

 private:
    bool more() {
        char buffer[4096];
        const auto got = ::recv(socket_, buffer, sizeof buffer, 0);
        if (got > 0) {
            heard_.append(buffer, static_cast<std::size_t>(got));
            return true;
        }
        over_ = got == 0 || errno == ECONNRESET;
        return false;
    }

    int socket_;
    bool is_connected_ = false;
    bool over_ = false;
    std::string heard_;
};

}  // namespace beetwright::http
