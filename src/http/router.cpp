#include "http/router.hpp"

#include <algorithm>
#include <optional>

#include "base/contract.hpp"

namespace beetwright::http {
namespace {

bool is_name(const std::string& segment) {
    return segment.size() > 2 && segment.front() == '{' && segment.back() == '}';
}

std::vector<std::string> segments_of(std::string_view pattern) {
    std::vector<std::string> segments;
    require(pattern.starts_with('/'), "a route's pattern starts with a slash");
    pattern.remove_prefix(1);
    while (!pattern.empty()) {
        const auto end = std::min(pattern.find('/'), pattern.size());
        segments.emplace_back(pattern.substr(0, end));
        pattern.remove_prefix(std::min(end + 1, pattern.size()));
    }
    return segments;
}

std::optional<PathValues> match(const std::vector<std::string>& pattern,
                                const std::vector<std::string>& path) {
    if (pattern.size() != path.size()) {
        return std::nullopt;
    }
    PathValues values;
    for (std::size_t i = 0; i < path.size(); ++i) {
        if (is_name(pattern[i])) {
            values.emplace(pattern[i].substr(1, pattern[i].size() - 2), path[i]);
        } else if (pattern[i] != path[i]) {
            return std::nullopt;
        }
    }
    return values;
}

/// Whether a pattern says more than another that fits the same path: a word before a name.
bool says_more(const std::vector<std::string>& one, const std::vector<std::string>& other) {
    for (std::size_t i = 0; i < one.size(); ++i) {
        if (is_name(one[i]) != is_name(other[i])) {
            return is_name(other[i]);
        }
    }
    return false;
}

}  // namespace

std::string_view name_of(Method method) {
    switch (method) {
        case Method::get: return "GET";
        case Method::head: return "HEAD";
        case Method::post: return "POST";
        case Method::put: return "PUT";
        case Method::remove: return "DELETE";
        case Method::other: break;
    }
    return "?";
}

void Router::add(Method method, std::string_view pattern, Handler handler) {
    auto segments = segments_of(pattern);
    require(
        std::ranges::none_of(
            routes_, [&](const Route& r) { return r.method == method && r.segments == segments; }),
        "a route is added once");
    routes_.push_back({method, std::move(segments), std::move(handler)});
}

Response Router::answer(const Request& request) const {
    const Method wanted = request.method == Method::head ? Method::get : request.method;
    const Route* best = nullptr;
    PathValues best_values;
    std::string allowed;
    for (const auto& route : routes_) {
        auto values = match(route.segments, request.target.segments);
        if (!values) {
            continue;
        }
        if (route.method != wanted) {
            allowed += (allowed.empty() ? "" : ", ") + std::string(name_of(route.method));
            allowed += route.method == Method::get ? ", HEAD" : "";
        } else if (best == nullptr || says_more(route.segments, best->segments)) {
            best = &route;
            best_values = std::move(*values);
        }
    }
    if (best != nullptr) {
        return best->handler(request, best_values);
    }
    if (allowed.empty()) {
        return {.status = 404, .body = "There is nothing here.\n", .headers = {}};
    }
    return {.status = 405, .body = "Not in this way.\n", .headers = {{"Allow", allowed}}};
}

std::vector<std::string> Router::routes() const {
    std::vector<std::string> names;
    for (const auto& route : routes_) {
        std::string name(name_of(route.method));
        name += ' ';
        for (const auto& segment : route.segments) {
            name += '/' + segment;
        }
        names.push_back(route.segments.empty() ? name + '/' : name);
    }
    return names;
}

}  // namespace beetwright::http
