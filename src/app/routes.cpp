#include "app/routes.hpp"

#include <string>

#include "app/answers.hpp"
#include "app/people_routes.hpp"
#include "app/sync_routes.hpp"
#include "io/questions.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
using http::Request;
using http::Response;

// The page runs nothing and fetches nothing; a browser is told to hold it to that.
Response page(std::string body) {
    return {.status = 200,
            .type = "text/html; charset=utf-8",
            .body = std::move(body),
            .headers = {{"Cache-Control", "no-store"},
                        {"Content-Security-Policy",
                         "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; "
                         "base-uri 'none'; form-action 'none'"},
                        {"Referrer-Policy", "no-referrer"}}};
}

Response answer(SeasonKeeper& keeper, std::string_view question, const Request& request) {
    const auto season = keeper.season();
    if (!season) {
        return refused(season.problems());
    }
    auto answer = io::answer_question((*season)->season, question, request.target.query);
    if (!answer) {
        return refused(answer.problems());
    }
    return answer->form == io::AnswerForm::page ? page(std::move(answer->body))
                                                : json(std::move(answer->body));
}

}  // namespace

void add_reading_routes(Access& access, SeasonKeeper& keeper) {
    for (const auto& question : io::questions()) {
        access.add(Method::get, "/api/v1/" + std::string(question.name), Needs::viewer,
                   [&keeper, name = question.name](const Request& request, const PathValues&,
                                                   const Person*) {
                       return answer(keeper, name, request);
                   });
    }
    access.add(Method::get, "/", Needs::anyone,
               [](const Request&, const PathValues&, const Person*) {
                   return Response{.status = 303,
                                   .body = "The report is at /api/v1/report.\n",
                                   .headers = {{"Location", "/api/v1/report"}}};
               });
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
    add_reading_routes(access, served.keeper);
    add_sync_routes(access, served.keeper, served.clock);
    add_watching_routes(access, served.metrics, served.connections);
    if (served.people != nullptr) {
        add_people_routes(access, *served.people);
    } else {
        add_me_route(access);
    }
}

}  // namespace beetwright::app
