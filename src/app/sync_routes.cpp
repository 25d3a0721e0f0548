#include "app/sync_routes.hpp"

#include <optional>

#include "app/answers.hpp"
#include "app/by_revision.hpp"
#include "app/compression.hpp"
#include "io/season_folder.hpp"
#include "io/sync_json.hpp"
#include "io/text_map.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
using http::Request;
using http::Response;

/// The season as the files of a folder.
Response season_files(SeasonKeeper& keeper, AnswerCache& cache, const Request& request) {
    return by_revision(keeper, cache, request,
                       {.name = "the season's files",
                        .whole =
                            [](const Snapshot& snapshot) {
                                return json(io::text_map_json(
                                    io::write_season(snapshot.season, UnitSystem::metric)));
                            },
                        .added =
                            [](const Snapshot& snapshot, std::int64_t after) {
                                const auto added = snapshot.added_after(after);
                                return added
                                           ? std::optional(io::text_map_json(io::write_observations(
                                                 *added, UnitSystem::metric)))
                                           : std::nullopt;
                            }});
}

/// From whom what was sent came. All of it is read from the file after the snapshot, and may hold
/// more than its revision: what came since is then told once more, and is the same.
Response received(SeasonKeeper& keeper, AnswerCache& cache, const Request& request) {
    return by_revision(
        keeper, cache, request,
        {.name = "received",
         .whole =
             [&](const Snapshot&) {
                 const auto all = keeper.received();
                 return all ? json(io::received_json(*all)) : refused(all.problems());
             },
         .added =
             [](const Snapshot& snapshot, std::int64_t after) {
                 const auto came = snapshot.received_after(after);
                 return came ? std::optional(io::received_json(*came)) : std::nullopt;
             }});
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

Response nothing_more(const Result<Done>& done) {
    return done ? json("{}\n") : refused(done.problems());
}

Response set_file(SeasonKeeper& keeper, const std::string& file, const Request& request,
                  const Person& person, Instant at) {
    return nothing_more(keeper.set_file(file, request.body, person.id, at));
}

}  // namespace

void add_sync_routes(Access& access, SeasonKeeper& keeper, std::shared_ptr<AnswerCache> cache,
                     std::function<Instant()> clock) {
    access.add(Method::get, "/api/v1/season", Needs::viewer,
               [&keeper, cache](const Request& request, const PathValues&, const Person*) {
                   return season_files(keeper, *cache, request);
               });
    access.add(
        Method::put, "/api/v1/season/{file}", Needs::manager,
        [&keeper, clock](const Request& request, const PathValues& values, const Person* person) {
            return set_file(keeper, values.at("file"), request, *person, clock());
        });
    access.add(
        Method::put, "/api/v1/season/{file}/{name}", Needs::manager,
        [&keeper, clock](const Request& request, const PathValues& values, const Person* person) {
            return nothing_more(keeper.rename(values.at("file"), values.at("name"), request.body,
                                              person->id, clock()));
        });
    access.add(Method::remove, "/api/v1/season/{file}/{name}", Needs::manager,
               [&keeper, clock](const Request&, const PathValues& values, const Person* person) {
                   return nothing_more(
                       keeper.remove(values.at("file"), values.at("name"), person->id, clock()));
               });
    access.add(Method::post, "/api/v1/observations", Needs::operator_,
               [&keeper, clock = std::move(clock)](const Request& request, const PathValues&,
                                                   const Person* person) {
                   return take_observations(keeper, request, person, clock());
               });
    access.add(Method::get, "/api/v1/received", Needs::viewer,
               [&keeper, cache = std::move(cache)](const Request& request, const PathValues&,
                                                   const Person*) {
                   return received(keeper, *cache, request);
               });
}

}  // namespace beetwright::app
