// A request as it was read and a response as it will be written, whatever library does the talking.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace beetwright::http {

enum class Method : std::uint8_t { get, head, post, put, remove, other };

/// The part of a request line between method and version, taken apart.
struct Target {
    std::vector<std::string> segments;  ///< of the path, decoded; "/" has none
    std::map<std::string, std::string> query;
};

/// Takes `/fields/Long%20Acre?slice_in=120d` apart. Nothing where it is not a path that a browser
/// would send: it does not start with a slash, a percent sign is followed by no two hex digits, a
/// segment is `.` or `..` or holds a slash or a zero byte, or a name stands twice in the query.
std::optional<Target> parse_target(std::string_view text);

/// Whether an address is of the machine itself.
bool is_loopback(std::string_view address);

struct Request {
    Method method = Method::get;
    Target target;
    /// By name in small letters; of several with one name the last.
    std::map<std::string, std::string> headers;
    std::string body;
    std::string peer;  ///< the address at the other end of the connection; "?" where it is gone

    /// Empty where there is none.
    [[nodiscard]] std::string_view header(std::string_view small_name) const;
    /// The cookie of this name; empty where there is none.
    [[nodiscard]] std::string_view cookie(std::string_view name) const;
};

/// A body that is made while it is sent, for as long as that takes: what there is now, empty where
/// that is nothing yet, or no text at all once it is over. It is pulled ten times a second by the
/// thread that talks, so that no worker is held and a quick producer is slowed down; it must not
/// wait and must not throw.
using Stream = std::function<std::optional<std::string>()>;

struct Response {
    int status = 200;
    std::string type = "text/plain; charset=utf-8";
    std::string body;
    std::vector<std::pair<std::string, std::string>> headers;
    /// Sent after `body`; the connection ends with it.
    Stream stream = {};
};

}  // namespace beetwright::http
