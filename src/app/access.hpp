// Who may use which route. Every route is added here with the least role that it needs, so that
// none can be forgotten; the handler learns who asks.
//
// A browser is known by a session cookie that no script can read and that no other site's page can
// send. Requests that change something must besides carry a header that other sites' pages cannot
// set, and must not come from one (docs/formats/api.md).
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/people.hpp"
#include "http/router.hpp"

namespace beetwright::app {

/// The least role that a route needs.
enum class Needs : std::uint8_t { anyone, viewer, operator_, manager, owner };
std::string_view word_of(Needs needs);

/// What stands between the server and the browsers.
enum class Front : std::uint8_t {
    nothing,
    tls,  ///< a proxy that speaks TLS, and tells whom it speaks for in X-Forwarded-For
};

inline constexpr const char* kSessionCookie = "beetwright_session";

/// Whether a request came from a program on this machine, and not by way of a proxy on it.
bool is_from_this_machine(const http::Request& request);

class Access {
 public:
    /// `person` is who asks: never null where the route needs a role.
    using Handler = std::function<http::Response(const http::Request&, const http::PathValues&,
                                                 const Person* person)>;

    /// `people` outlives this.
    Access(People& people, Front front) : people_(&people), front_(front) {}
    /// Without accounts: everybody on this machine is an owner. Nobody else gets anything.
    static Access open() { return Access(); }
    Access(const Access&) = delete;  // its routes know where it is
    Access& operator=(const Access&) = delete;

    void add(http::Method method, std::string_view pattern, Needs needs, Handler handler);
    [[nodiscard]] http::Response answer(const http::Request& request) const;

    struct Route {
        http::Method method;
        std::string pattern;
        Needs needs;
    };
    /// In the order in which they were added.
    [[nodiscard]] const std::vector<Route>& routes() const { return routes_; }

    /// The Set-Cookie header that signs a browser in, or prolongs it; without a token, out.
    [[nodiscard]] std::pair<std::string, std::string> cookie(std::string_view token) const;
    /// Who is at the other end: of the proxy's connection, where there is one in front.
    [[nodiscard]] std::string peer_of(const http::Request& request) const;

 private:
    Access() = default;
    [[nodiscard]] http::Response guarded(const http::Request& request,
                                         const http::PathValues& values, Needs needs,
                                         const Handler& handler) const;
    [[nodiscard]] std::optional<http::Response> refuse_strangers(
        const http::Request& request) const;

    People* people_ = nullptr;  ///< null: without accounts
    Front front_ = Front::nothing;
    http::Router router_;
    std::vector<Route> routes_;
};

}  // namespace beetwright::app
