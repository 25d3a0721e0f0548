#include "app/sync_routes.hpp"

#include "app/answers.hpp"
#include "io/season_folder.hpp"
#include "io/sync_json.hpp"
#include "io/text_map.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
using http::Request;
using http::Response;

std::string revision_tag(std::int64_t revision) {
    return "\"" + std::to_string(revision) + "\"";
}

/// The season as the files of a folder, or 304 where the browser has this revision.
Response season_files(SeasonKeeper& keeper, AnswerCache& cache, const Request& request) {
    const auto snapshot = keeper.season();
    if (!snapshot) {
        return refused(snapshot.problems());
    }
    const auto tag = revision_tag((*snapshot)->revision);
    Response response;
    if (request.header("if-none-match") == tag) {
        response.status = 304;
    } else {
        response = cache.get("the season's files", {(*snapshot)->revision, std::nullopt}, [&] {
            return json(
                io::text_map_json(io::write_season((*snapshot)->season, UnitSystem::metric)));
        });
    }
    // Kept, but asked about each time.
    response.headers = {{"Cache-Control", "private, no-cache"}, {"ETag", tag}};
    return response;
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

Response received(SeasonKeeper& keeper) {
    const auto all = keeper.received();
    return all ? json(io::received_json(*all)) : refused(all.problems());
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
    access.add(
        Method::get, "/api/v1/received", Needs::viewer,
        [&keeper](const Request&, const PathValues&, const Person*) { return received(keeper); });
}

}  // namespace beetwright::app
