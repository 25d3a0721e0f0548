#include "app/access.hpp"

#include <algorithm>
#include <array>

#include "app/answers.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::Request;
using http::Response;

/// The name in a Host header without its port.
std::string_view host_name(std::string_view host) {
    if (host.starts_with('[')) {
        return host.substr(0, host.find(']') + 1);
    }
    return host.substr(0, host.find(':'));
}

bool names_this_machine(std::string_view host) {
    const auto name = host_name(host);
    // Digits only: 127.example.org is a name like any other, and may point anywhere.
    const bool is_loopback_number =
        name.starts_with("127.") && name.find_first_not_of("0123456789.") == std::string_view::npos;
    return name == "localhost" || name == "[::1]" || is_loopback_number;
}

/// What stands between a URL's scheme and its path.
std::string_view authority(std::string_view origin) {
    const auto scheme = origin.find("://");
    return scheme == std::string_view::npos ? std::string_view() : origin.substr(scheme + 3);
}

/// Whether a request that changes something may have been sent by another site's page. The header
/// alone keeps those out, for a page cannot set it on requests to another site unless that site
/// agrees, which we never do; what browsers tell of themselves must agree.
bool may_come_from_elsewhere(const Request& request) {
    const auto origin = request.header("origin");
    const auto site = request.header("sec-fetch-site");
    return request.header("x-beetwright") != "1" ||
           (!origin.empty() && authority(origin) != request.header("host")) ||
           (!site.empty() && site != "same-origin");
}

Problem from_elsewhere() {
    return {ProblemKind::denied,
            {},
            "this may have been sent by another site's page",
            "send it from a page of this server, with the header `X-Beetwright: 1`"};
}

Response not_signed_in() {
    auto response = refused(
        {Problem{ProblemKind::denied, {}, "this is for people who are signed in", "sign in"}}, 401);
    // Asked for by RFC 9110 section 15.5.2; no browser acts upon a scheme that it does not know.
    response.headers.emplace_back("WWW-Authenticate", "Beetwright-Session");
    return response;
}

Problem role_too_low(const Person& person, Needs needs) {
    return {ProblemKind::denied,
            {},
            "this needs the role of " + std::string(word_of(needs)) + "; " + person.name + " is " +
                std::string(word_of(person.role)),
            "ask somebody who has that role"};
}

bool reaches(Role role, Needs needs) {
    switch (needs) {
        case Needs::anyone: return true;
        case Needs::viewer: return role >= Role::viewer;
        case Needs::operator_: return role >= Role::operator_;
        case Needs::manager: return role >= Role::manager;
        case Needs::owner: return role >= Role::owner;
    }
    return false;
}

}  // namespace

std::string_view word_of(Needs needs) {
    switch (needs) {
        case Needs::anyone: return "anyone";
        case Needs::viewer: return word_of(Role::viewer);
        case Needs::operator_: return word_of(Role::operator_);
        case Needs::manager: return word_of(Role::manager);
        case Needs::owner: return word_of(Role::owner);
    }
    return "";
}

bool is_from_this_machine(const Request& request) {
    constexpr std::array<std::string_view, 4> left_by_proxies{"forwarded", "x-forwarded-for",
                                                              "x-real-ip", "via"};
    return http::is_loopback(request.peer) && std::ranges::all_of(left_by_proxies, [&](auto name) {
               return request.header(name).empty();
           });
}

void Access::add(Method method, std::string_view pattern, Needs needs, Handler handler) {
    routes_.push_back({.method = method, .pattern = std::string(pattern), .needs = needs});
    router_.add(method, pattern,
                [this, needs, handler = std::move(handler)](const Request& request,
                                                            const http::PathValues& values) {
                    return guarded(request, values, needs, handler);
                });
}

std::optional<Response> Access::refuse_strangers(const Request& request) const {
    // Without accounts a page elsewhere could have its name point here and read what it likes, were
    // any name taken for ours.
    if (people_ == nullptr &&
        (!is_from_this_machine(request) || !names_this_machine(request.header("host")))) {
        return refused(Problem{ProblemKind::denied,
                               {},
                               "this server has no accounts and answers on its own machine alone",
                               "open http://127.0.0.1 there, or start it without --open"});
    }
    const bool reads = request.method == Method::get || request.method == Method::head;
    if (!reads && may_come_from_elsewhere(request)) {
        return refused(from_elsewhere());
    }
    return std::nullopt;
}

Response Access::answer(const Request& request) const {
    if (auto refusal = refuse_strangers(request)) {
        return std::move(*refusal);
    }
    return router_.answer(request);
}

Response Access::guarded(const Request& request, const http::PathValues& values, Needs needs,
                         const Handler& handler) const {
    if (people_ == nullptr) {
        const Person owner{
            .id = {}, .name = "this machine", .role = Role::owner, .created = {}, .active = true};
        return handler(request, values, &owner);
    }
    const auto token = request.cookie(kSessionCookie);
    const auto found = people_->present(std::string(token));
    if (!found && needs != Needs::anyone) {
        return refused(found.problems());
    }
    const Present* present = found && *found ? &**found : nullptr;
    if (present == nullptr && needs != Needs::anyone) {
        return not_signed_in();
    }
    if (present != nullptr && !reaches(present->person.role, needs)) {
        return refused(role_too_low(present->person, needs));
    }
    auto response = handler(request, values, present == nullptr ? nullptr : &present->person);
    const bool has_cookie = std::ranges::any_of(
        response.headers, [](const auto& header) { return header.first == "Set-Cookie"; });
    if (present != nullptr && present->prolonged && !has_cookie) {
        response.headers.push_back(cookie(token));
    }
    return response;
}

std::pair<std::string, std::string> Access::cookie(std::string_view token) const {
    const auto seconds =
        token.empty() ? std::chrono::seconds(0) : std::chrono::seconds(kSessionLasts);
    return {"Set-Cookie", std::string(kSessionCookie) + "=" + std::string(token) +
                              "; Path=/; Max-Age=" + std::to_string(seconds.count()) +
                              "; HttpOnly; SameSite=Strict" +
                              (front_ == Front::tls ? "; Secure" : "")};
}

std::string Access::peer_of(const Request& request) const {
    if (front_ != Front::tls || !http::is_loopback(request.peer)) {
        return request.peer;
    }
    // What the proxy itself has added stands last; what stands before may be made up.
    auto told = request.header("x-forwarded-for");
    told.remove_prefix(std::min(told.rfind(',') + 1, told.size()));
    told.remove_prefix(std::min(told.find_first_not_of(' '), told.size()));
    told = told.substr(0, told.find_last_not_of(' ') + 1);
    return told.empty() ? request.peer : std::string(told.substr(0, 64));
}

}  // namespace beetwright::app
