#include "http/message.hpp"

#include <charconv>

namespace beetwright::http {
namespace {

/// Percent signs and, in a query, plus signs undone.
std::optional<std::string> decoded(std::string_view text, char space) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != '%') {
            out += text[i] == space ? ' ' : text[i];
            continue;
        }
        unsigned value = 0;
        const char* first = text.data() + i + 1;
        if (text.size() - i < 3 || std::from_chars(first, first + 2, value, 16).ptr != first + 2) {
            return std::nullopt;
        }
        out += static_cast<char>(value);
        i += 2;
    }
    if (out.find('\0') != std::string::npos) {
        return std::nullopt;
    }
    return out;
}

/// Calls `take` with each part between the marks.
template <class Take>
bool each_part(std::string_view text, char mark, Take&& take) {
    while (true) {
        const auto end = text.find(mark);
        if (!take(text.substr(0, end))) {
            return false;
        }
        if (end == std::string_view::npos) {
            return true;
        }
        text.remove_prefix(end + 1);
    }
}

}  // namespace

std::optional<Target> parse_target(std::string_view text) {
    Target target;
    if (!text.starts_with('/')) {
        return std::nullopt;
    }
    const auto question = text.find('?');
    const auto path = text.substr(1, question == std::string_view::npos ? question : question - 1);
    const bool path_in_order = each_part(path, '/', [&](std::string_view part) {
        auto segment = decoded(part, '\0');
        if (!segment || *segment == "." || *segment == ".." ||
            segment->find('/') != std::string::npos) {
            return false;
        }
        target.segments.push_back(std::move(*segment));
        return true;
    });
    // "/a/" is "/a", and "/" has no segment.
    if (!target.segments.empty() && target.segments.back().empty()) {
        target.segments.pop_back();
    }
    for (const auto& segment : target.segments) {
        if (segment.empty()) {
            return std::nullopt;
        }
    }
    if (!path_in_order) {
        return std::nullopt;
    }
    if (question == std::string_view::npos || question + 1 == text.size()) {
        return target;
    }
    const bool query_in_order =
        each_part(text.substr(question + 1), '&', [&](std::string_view part) {
            const auto equals = part.find('=');
            const auto name = decoded(part.substr(0, equals), '+');
            const auto value = decoded(
                equals == std::string_view::npos ? std::string_view() : part.substr(equals + 1),
                '+');
            return name && value && target.query.emplace(*name, *value).second;
        });
    return query_in_order ? std::optional(std::move(target)) : std::nullopt;
}

bool is_loopback(std::string_view address) {
    return address.starts_with("127.") || address == "::1" || address.starts_with("::ffff:127.");
}

std::string_view Request::header(std::string_view small_name) const {
    const auto found = headers.find(std::string(small_name));
    return found == headers.end() ? std::string_view() : std::string_view(found->second);
}

std::string_view Request::cookie(std::string_view name) const {
    std::string_view found;
    each_part(header("cookie"), ';', [&](std::string_view part) {
        part.remove_prefix(std::min(part.find_first_not_of(' '), part.size()));
        if (part.size() > name.size() && part.starts_with(name) && part[name.size()] == '=') {
            found = part.substr(name.size() + 1);
            return false;
        }
        return true;
    });
    return found;
}

}  // namespace beetwright::http
