#include "app/routes.hpp"

#include <string>

#include "app/answers.hpp"
#include "app/app_files.hpp"
#include "app/compression.hpp"
#include "app/ground_routes.hpp"
#include "app/job_routes.hpp"
#include "app/people_routes.hpp"
#include "app/photo_routes.hpp"
#include "app/sync_routes.hpp"
#include "app/weather_routes.hpp"
#include "io/questions.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
using http::Request;
using http::Response;

/// A season's whole ledger is half a megabyte; of most questions the last answer is kept.
constexpr std::size_t kMostCachedBytes = 16U << 20U;

using Parameters = std::map<std::string, std::string>;

/// The basis of the season's ledgers; null where there is none, which answering will tell.
std::shared_ptr<const engine::LedgerBasis> basis_of(const Snapshot& snapshot,
                                                    std::string_view question) {
    if (question != "ledger") {
        return nullptr;
    }
    const auto basis = snapshot.basis->of(snapshot.season);
    return basis ? *basis : nullptr;
}

/// What an answer follows from: as little as is sure, for while many sync, the season changes many
/// times a second, and a field does not. A question that is not named here follows from all.
Stamp stamp_of(const Snapshot& snapshot, std::string_view question, const Parameters& parameters,
               const engine::LedgerBasis* basis) {
    const auto named = parameters.find("field");
    const auto field = named == parameters.end() ? std::string() : named->second;
    if (question == "enough" || question == "crowns" || question == "constants") {
        return {snapshot.only_added_since, std::nullopt};  // from the season's own constants alone
    }
    if (question == "check") {
        return {snapshot.field_changed(field), std::nullopt};
    }
    if (question == "ledger" && basis != nullptr && !field.empty()) {
        const auto place = basis->place_of(field);
        if (place < basis->amounts.size()) {
            // Other fields' observations matter as far as they change this field's amounts.
            return {snapshot.only_added_since, basis->amounts[place]};
        }
    }
    return {snapshot.revision, std::nullopt};
}

/// A question and its parameters, as one word.
std::string key_of(std::string_view question, const Parameters& parameters) {
    std::string key(question);
    for (const auto& [name, value] : parameters) {
        for (const auto* part : {&name, &value}) {
            key += '\n' + std::to_string(part->size()) + ' ' + *part;
        }
    }
    return key;
}

Response work_out(const Snapshot& snapshot, std::string_view question, const Parameters& parameters,
                  const engine::LedgerBasis* basis) {
    auto memory = snapshot.harvesters->copy();
    auto answer = io::answer_question(snapshot.season, question, parameters, {}, basis, &memory);
    snapshot.harvesters->keep(std::move(memory));
    if (!answer) {
        return refused(answer.problems());
    }
    return answer->form == io::AnswerForm::page ? page(std::move(answer->body))
                                                : json(std::move(answer->body));
}

Response answer(SeasonKeeper& keeper, AnswerCache& cache, std::string_view question,
                const Request& request) {
    const auto season = keeper.season();
    if (!season) {
        return refused(season.problems());
    }
    const auto& snapshot = **season;
    const auto& parameters = request.target.query;
    const auto basis = basis_of(snapshot, question);
    return cache.get(
        key_of_form(key_of(question, parameters), request),
        stamp_of(snapshot, question, parameters, basis.get()),
        [&] { return compressed(work_out(snapshot, question, parameters, basis.get()), request); });
}

}  // namespace

void add_reading_routes(Access& access, SeasonKeeper& keeper,
                        const std::shared_ptr<AnswerCache>& cache) {
    for (const auto& question : io::questions()) {
        access.add(Method::get, "/api/v1/" + std::string(question.name), Needs::viewer,
                   [&keeper, cache, name = question.name](const Request& request, const PathValues&,
                                                          const Person*) {
                       return answer(keeper, *cache, name, request);
                   });
    }
}

void add_watching_routes(Access& access, const Metrics& metrics,
                         std::function<std::size_t()> connections) {
    access.add(Method::get, "/healthz", Needs::anyone,
               [](const Request&, const PathValues&, const Person*) {
                   return Response{.body = "well\n", .headers = {}};
               });
    access.add(Method::get, "/metrics", Needs::anyone,
               [&metrics, connections = std::move(connections)](const Request& request,
                                                                const PathValues&, const Person*) {
                   if (!is_from_this_machine(request)) {
                       return refused(Problem{ProblemKind::denied,
                                              {},
                                              "this is told on the machine itself alone",
                                              "ask from there, by its loopback address"});
                   }
                   return Response{.type = "text/plain; version=0.0.4",
                                   .body = metrics.text(connections()),
                                   .headers = {}};
               });
}

void add_every_route(Access& access, const Served& served) {
    const auto cache = std::make_shared<AnswerCache>(kMostCachedBytes);
    add_reading_routes(access, served.keeper, cache);
    add_sync_routes(access, served.keeper, cache, served.clock);
    add_weather_routes(access, served.keeper, cache, served.clock);
    add_app_routes(access, served.files);
    add_watching_routes(access, served.metrics, served.connections);
    if (served.jobs != nullptr) {
        add_job_routes(access, served.keeper, *served.jobs, served.job_bytes, served.grounds);
    }
    if (served.grounds != nullptr) {
        add_ground_routes(access, served.keeper, *served.grounds, served.clock);
    }
    if (served.photos != nullptr) {
        add_photo_routes(access, served.keeper, *served.photos, served.clock);
    }
    if (served.people != nullptr) {
        add_people_routes(access, *served.people);
    } else {
        add_me_route(access);
    }
}

}  // namespace beetwright::app
