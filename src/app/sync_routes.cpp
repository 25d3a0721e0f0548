#include "app/sync_routes.hpp"

#include <algorithm>
#include <charconv>
#include <optional>

#include "app/answers.hpp"
#include "app/compression.hpp"
#include "io/season_folder.hpp"
#include "io/season_tables.hpp"
#include "io/sync_json.hpp"
#include "io/text_map.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
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

/// Files that hold observations and nothing else.
std::string tables_of(const ledger::Season& observations) {
    auto files = io::write_season(observations, UnitSystem::metric);
    std::erase_if(files, [](const auto& file) {
        return std::ranges::none_of(io::observation_tables(), [&](const io::Table* table) {
            return file.first == table->file;
        });
    });
    return io::text_map_json(files);
}

/// An answer that a browser keeps by its revision, and asks again whether it is still so.
Response tagged(Response response, const std::string& tag) {
    std::erase_if(response.headers, [](const auto& one) { return one.first == "Cache-Control"; });
    response.headers.emplace_back("Cache-Control", "private, no-cache");
    response.headers.emplace_back("ETag", tag);
    return response;
}

/// The season as the files of a folder; 304 where the browser has this revision; what was added
/// where it has an earlier one, asks for no more, and no more has changed.
Response season_files(SeasonKeeper& keeper, AnswerCache& cache, const Request& request) {
    const auto read = keeper.season();
    if (!read) {
        return refused(read.problems());
    }
    const Snapshot& snapshot = **read;
    const auto tag = revision_tag(keeper, snapshot.revision);
    const auto has = revision_of(keeper, request.header("if-none-match"));
    if (has == snapshot.revision) {
        return tagged(compressed({.status = 304, .body = "", .headers = {}}, request), tag);
    }
    if (has && !request.header("x-beetwright-additions").empty()) {
        if (const auto added = snapshot.added_after(*has)) {
            auto response = compressed(json(tables_of(*added)), request);
            response.headers.emplace_back("X-Beetwright-Additions", "1");
            return tagged(std::move(response), tag);
        }
    }
    const auto whole = [&] {
        return compressed(
            json(io::text_map_json(io::write_season(snapshot.season, UnitSystem::metric))),
            request);
    };
    return tagged(cache.get(key_of_form("the season's files", request),
                            {snapshot.revision, std::nullopt}, whole),
                  tag);
}

Response take_observations(SeasonKeeper& keeper, const Request& request, const Person* person,
                           Instant at) {
    const auto texts = io::read_text_map(request.body, "the observations");
    if (!texts) {
        return refused(texts.problems());
    }
    const auto snapshot = keeper.season();
    if (!snapshot) {
        return refused(snapshot.problems());
    }
    auto reading = io::read_observation_rows(*texts, (*snapshot)->season, (*snapshot)->ids);
    if (!reading) {
        return refused(reading.problems());
    }
    auto receipt = keeper.append({.observations = std::move(reading->season),
                                  .by = person == nullptr ? std::string() : person->name,
                                  .at = at});
    return receipt ? json(io::receipt_json(static_cast<std::int64_t>(receipt->fresh.size()),
                                           receipt->known))
                   : refused(receipt.problems());
}

Response received(SeasonKeeper& keeper, const Request& request) {
    const auto all = keeper.received();
    return all ? compressed(json(io::received_json(*all)), request) : refused(all.problems());
}

Response set_file(SeasonKeeper& keeper, const std::string& file, const Request& request,
                  const Person& person, Instant at) {
    const auto set = keeper.set_file(file, request.body, person.id, at);
    return set ? json("{}\n") : refused(set.problems());
}

}  // namespace

void add_sync_routes(Access& access, SeasonKeeper& keeper, std::shared_ptr<AnswerCache> cache,
                     std::function<Instant()> clock) {
    access.add(Method::get, "/api/v1/season", Needs::viewer,
               [&keeper, cache = std::move(cache)](const Request& request, const PathValues&,
                                                   const Person*) {
                   return season_files(keeper, *cache, request);
               });
    access.add(
        Method::put, "/api/v1/season/{file}", Needs::manager,
        [&keeper, clock](const Request& request, const PathValues& values, const Person* person) {
            return set_file(keeper, values.at("file"), request, *person, clock());
        });
    access.add(Method::post, "/api/v1/observations", Needs::operator_,
               [&keeper, clock = std::move(clock)](const Request& request, const PathValues&,
                                                   const Person* person) {
                   return take_observations(keeper, request, person, clock());
               });
    access.add(Method::get, "/api/v1/received", Needs::viewer,
               [&keeper](const Request& request, const PathValues&, const Person*) {
                   return received(keeper, request);
               });
}

}  // namespace beetwright::app
