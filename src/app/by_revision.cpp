#include "app/by_revision.hpp"

#include <algorithm>
#include <charconv>

#include "app/answers.hpp"
#include "app/compression.hpp"

namespace beetwright::app {
namespace {

using http::Request;
using http::Response;

/// A revision that a browser may have heard of: the opening of the file and its number. Weak, for
/// it says which season an answer is of and not in which coding it goes over the network.
std::string revision_tag(const SeasonKeeper& keeper, std::int64_t revision) {
    return "W/\"" + keeper.opening() + "." + std::to_string(revision) + "\"";
}

/// The revision's number, where the tag is of this opening. Whether it is weak does not matter
/// (RFC 9110 section 13.1.2); proxies make it so.
std::optional<std::int64_t> revision_of(const SeasonKeeper& keeper, std::string_view tag) {
    const std::string start = "\"" + keeper.opening() + ".";
    std::int64_t revision = 0;
    tag.remove_prefix(tag.starts_with("W/") ? 2 : 0);
    if (!tag.starts_with(start)) {
        return std::nullopt;
    }
    tag.remove_prefix(start.size());
    const auto read = std::from_chars(tag.data(), tag.data() + tag.size(), revision);
    const bool is_whole =
        read.ec == std::errc{} && read.ptr + 1 == tag.data() + tag.size() && *read.ptr == '"';
    return is_whole ? std::optional(revision) : std::nullopt;
}

}  // namespace

Response tagged(Response response, const std::string& tag) {
    std::erase_if(response.headers, [](const auto& one) { return one.first == "Cache-Control"; });
    response.headers.emplace_back("Cache-Control", "private, no-cache");
    response.headers.emplace_back("ETag", tag);
    return response;
}

Response by_revision(SeasonKeeper& keeper, AnswerCache& cache, const Request& request,
                     const ByRevision& what) {
    const auto read = keeper.season();
    if (!read) {
        return refused(read.problems());
    }
    const Snapshot& snapshot = **read;
    const auto revision = what.number == nullptr ? snapshot.revision : what.number(snapshot);
    const auto tag = revision_tag(keeper, revision);
    const auto has = revision_of(keeper, request.header("if-none-match"));
    if (has == revision) {
        return tagged(compressed({.status = 304, .body = "", .headers = {}}, request), tag);
    }
    if (has && what.added && !request.header("x-beetwright-additions").empty()) {
        if (auto added = what.added(snapshot, *has)) {
            auto response = compressed(json(std::move(*added)), request);
            response.headers.emplace_back("X-Beetwright-Additions", "1");
            response.headers.emplace_back("ETag",
                                          tag);  // of what it leads to; not to be kept itself
            return response;
        }
    }
    auto whole = cache.get(key_of_form(what.name, request), {revision, std::nullopt},
                           [&] { return compressed(what.whole(snapshot), request); });
    return whole.status == 200 ? tagged(std::move(whole), tag) : whole;
}

}  // namespace beetwright::app
