#include "app/routes.hpp"

#include <set>
#include <string>

#include "engine/check_question.hpp"
#include "engine/ledger_question.hpp"
#include "engine/report_question.hpp"
#include "engine/settle_question.hpp"
#include "io/check_text.hpp"
#include "io/ledger_json.hpp"
#include "io/ledger_words.hpp"
#include "io/problems_json.hpp"
#include "io/report_html.hpp"
#include "io/settle_text.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
using http::Request;
using http::Response;

constexpr const char* kJson = "application/json";

Response json(std::string body, int status = 200) {
    return {.status = status,
            .type = kJson,
            .body = std::move(body),
            .headers = {{"Cache-Control", "no-store"}}};
}

Response refused(const Problems& problems) {
    int status = 400;
    switch (problems.front().kind) {
        case ProblemKind::input:
        case ProblemKind::limit: break;
        case ProblemKind::missing: status = 404; break;
        case ProblemKind::conflict: status = 409; break;
        case ProblemKind::outside: status = 503; break;
    }
    return json(io::problems_json(problems), status);
}

Problem wrong_parameter(const std::string& name, std::string what, std::string fix) {
    return {ProblemKind::input,
            {.file = "", .line = 0, .field = name},
            std::move(what),
            std::move(fix)};
}

/// The parameters after the question mark; those that nobody asks for are a problem, so that a
/// misspelt one is not passed over.
class Parameters {
 public:
    explicit Parameters(const Request& request) : query_(request.target.query) {}

    std::string text(const std::string& name) {
        known_.insert(name);
        const auto found = query_.find(name);
        return found == query_.end() ? std::string() : found->second;
    }
    std::optional<int> days(const std::string& name) {
        const auto words = text(name);
        if (words.empty()) {
            return std::nullopt;
        }
        const auto days = io::read_days(words);
        if (!days) {
            const auto& problem = days.problems().front();
            problems_.push_back(wrong_parameter(name, problem.what, problem.fix));
            return std::nullopt;
        }
        return *days;
    }
    std::optional<engine::GroupBy> group(const std::string& name) {
        const auto word = text(name);
        const auto group = io::group_of(word);
        if (!word.empty() && !group) {
            std::string words;
            for (const auto& known : io::group_words()) {
                words += (words.empty() ? "" : ", ") + std::string(known.word);
            }
            problems_.push_back(wrong_parameter(name, "'" + word + "' is not a way to group fields",
                                                "write one of " + words));
        }
        return group;
    }
    UnitSystem units(const std::string& name, UnitSystem otherwise) {
        const auto word = text(name);
        if (!word.empty() && word != "metric" && word != "us") {
            problems_.push_back(wrong_parameter(name, "'" + word + "' is not a system of units",
                                                "write metric or us"));
        }
        return word == "us" ? UnitSystem::us : word == "metric" ? UnitSystem::metric : otherwise;
    }

    /// Call when all have been asked for.
    [[nodiscard]] Problems problems() const {
        Problems all = problems_;
        for (const auto& [name, value] : query_) {
            if (!known_.contains(name)) {
                all.push_back(wrong_parameter(name, "nothing here is called this",
                                              "leave it out, or mend its name"));
            }
        }
        return all;
    }

 private:
    const std::map<std::string, std::string>& query_;
    std::set<std::string> known_;
    Problems problems_;
};

Response ledger(const ledger::Season& season, const Request& request) {
    Parameters parameters(request);
    engine::LedgerQuestion question;
    question.field = parameters.text("field");
    question.slice_after_days = parameters.days("slice_in");
    if (const auto by = parameters.group("by")) {
        question.groups.push_back(*by);
    }
    if (const auto problems = parameters.problems(); !problems.empty()) {
        return refused(problems);
    }
    WorkerPool pool(1);
    const auto answer = engine::ask(season, question, pool);
    return answer ? json(io::ledger_json(*answer, season.currency)) : refused(answer.problems());
}

Response check(const ledger::Season& season, const Request& request) {
    Parameters parameters(request);
    const auto field = parameters.text("field");
    if (const auto problems = parameters.problems(); !problems.empty()) {
        return refused(problems);
    }
    const auto answer = engine::ask_check(season, field);
    return answer ? json(io::check_json(*answer)) : refused(answer.problems());
}

Response settlement(const ledger::Season& season, const Request& request) {
    Parameters parameters(request);
    const auto field = parameters.text("field");
    if (const auto problems = parameters.problems(); !problems.empty()) {
        return refused(problems);
    }
    const auto answer = engine::ask_settle(season, field);
    return answer ? json(io::settle_json(*answer, season.currency)) : refused(answer.problems());
}

Response report(const ledger::Season& season, const Request& request) {
    Parameters parameters(request);
    const auto slice_after_days = parameters.days("slice_in");
    const auto units = parameters.units("units", season.units);
    if (const auto problems = parameters.problems(); !problems.empty()) {
        return refused(problems);
    }
    WorkerPool pool(1);
    const auto answer = engine::ask_report(season, slice_after_days, pool);
    if (!answer) {
        return refused(answer.problems());
    }
    // The page runs nothing and fetches nothing; a browser is told to hold it to that.
    return {.status = 200,
            .type = "text/html; charset=utf-8",
            .body = io::report_html(*answer, io::PeopleUnits(units, season.currency)),
            .headers = {{"Cache-Control", "no-store"},
                        {"Content-Security-Policy",
                         "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; "
                         "base-uri 'none'; form-action 'none'"},
                        {"Referrer-Policy", "no-referrer"}}};
}

}  // namespace

void add_reading_routes(http::Router& router, SeasonKeeper& keeper) {
    const auto reading = [&keeper](Response (*answer)(const ledger::Season&, const Request&)) {
        return [&keeper, answer](const Request& request, const PathValues&) {
            const auto season = keeper.season();
            return season ? answer(**season, request) : refused(season.problems());
        };
    };
    router.add(Method::get, "/api/v1/ledger", reading(ledger));
    router.add(Method::get, "/api/v1/check", reading(check));
    router.add(Method::get, "/api/v1/settlement", reading(settlement));
    router.add(Method::get, "/report", reading(report));
    router.add(Method::get, "/", [](const Request&, const PathValues&) {
        return Response{.status = 303,
                        .body = "The report is at /report.\n",
                        .headers = {{"Location", "/report"}}};
    });
}

}  // namespace beetwright::app
