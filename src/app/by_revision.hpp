// Answers that a browser keeps by the season's revision, and asks again whether they are still so.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>

#include "app/answer_cache.hpp"
#include "app/season_keeper.hpp"
#include "http/message.hpp"

namespace beetwright::app {

/// An answer that a browser keeps by a tag, and asks again whether it is still so.
http::Response tagged(http::Response response, const std::string& tag);

/// What is told of the season at each of its revisions, in JSON.
struct ByRevision {
    const char* name;  ///< under which it is kept
    /// The revision that it goes by; null: the season's.
    std::int64_t (*number)(const Snapshot&) = nullptr;
    std::function<http::Response(const Snapshot&)> whole;
    /// What a revision and those after it brought; nothing where more may have changed. Null: that
    /// is never known.
    std::function<std::optional<std::string>(const Snapshot&, std::int64_t after)> added;
};

/// 304 where the browser has this revision; what was added where it has an earlier one of this
/// opening, asks for no more, and no more has changed; else all of it.
http::Response by_revision(SeasonKeeper& keeper, AnswerCache& cache, const http::Request& request,
                           const ByRevision& what);

}  // namespace beetwright::app
