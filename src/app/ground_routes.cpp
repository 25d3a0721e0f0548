#include "app/ground_routes.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <string_view>

#include "app/answers.hpp"
#include "app/by_revision.hpp"
#include "app/compression.hpp"
#include "app/credentials.hpp"
#include "engine/harvester_basis.hpp"
#include "maps/zone_files.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
using http::Request;
using http::Response;
using records::GroundPart;

/// What a request says, each name at most once; what nobody asks for is a problem.
Result<std::map<std::string, std::string>> said_in(const Request& request,
                                                   const std::set<std::string>& known) {
    Problems problems;
    for (const auto& [name, value] : request.target.query) {
        if (!known.contains(name)) {
            problems.push_back(unknown_parameter(name));
        }
    }
    if (!request.target.query.contains("field")) {
        problems.push_back(
            wrong_parameter("field", "no field is named", "write ?field=Long%20Acre"));
    }
    return problems.empty() ? Result(request.target.query) : problems;
}

Result<GroundPart> part_of(const std::string& word) {
    if (const auto part = records::ground_part_named(word)) {
        return *part;
    }
    return Problem{ProblemKind::missing,
                   {.file = "", .line = 0, .field = "part"},
                   "'" + word + "' is nothing that is kept of a field's ground",
                   "write border, heights or zones"};
}

/// What `make` gives, under a tag of these words; 304 where the browser has it.
template <class Make>
Response by_tag(const Request& request, const std::string& words, Make&& make) {
    const auto tag = "W/\"" + words + "\"";
    auto has = request.header("if-none-match");
    has.remove_prefix(has.starts_with("W/") ? 2 : 0);  // or a proxy made it strong
    if (has == std::string_view(tag).substr(2)) {
        return tagged(compressed({.status = 304, .body = "", .headers = {}}, request), tag);
    }
    Result<std::string> body = make();
    return body ? tagged(compressed(json(std::move(*body)), request), tag)
                : refused(body.problems());
}

Response list(SeasonKeeper& keeper, Grounds& grounds, const Request& request) {
    const auto snapshot = keeper.season();
    const auto revision = grounds.revision();
    if (!snapshot || !revision) {
        return refused(snapshot ? revision.problems() : snapshot.problems());
    }
    // Settings are told as the season's machines show them.
    const auto words = keeper.opening() + "." + std::to_string(*revision) + "." +
                       std::to_string((*snapshot)->only_added_since);
    return by_tag(request, words, [&] { return grounds.list((*snapshot)->season); });
}

Response relief(SeasonKeeper& keeper, Grounds& grounds, const Request& request) {
    const auto said = said_in(request, {"field"});
    if (!said) {
        return refused(said.problems());
    }
    const auto& field = said->at("field");
    const auto stamp = grounds.relief_stamp(field);
    if (!stamp) {
        return refused(stamp.problems());
    }
    const auto words = keeper.opening() + "." + std::to_string(stamp->heights) + "." +
                       std::to_string(stamp->border);
    return by_tag(request, words, [&] { return grounds.relief(field); });
}

Response set(SeasonKeeper& keeper, Grounds& grounds, const std::string& word,
             const Request& request, const Person& person, Instant at) {
    const auto part = part_of(word);
    if (!part) {
        return refused(part.problems());
    }
    auto said = said_in(request, {"field", "file", "crs", "height_unit", "first_day"});
    if (!said) {
        return refused(said.problems());
    }
    GroundSent sent{.part = *part, .field = said->at("field"), .bytes = request.body};
    said->erase("field");
    if (const auto file = said->extract("file"); !file.empty()) {
        sent.file = file.mapped();
        if (auto wrong = wrong_name("file", sent.file)) {
            return refused(std::move(*wrong));
        }
    }
    sent.said = std::move(*said);
    const auto snapshot = keeper.season();
    if (!snapshot) {
        return refused(snapshot.problems());
    }
    auto done = grounds.set((*snapshot)->season, sent, person.id, at);
    return done ? compressed(json(std::move(*done)), request) : refused(done.problems());
}

Response remove(Grounds& grounds, const std::string& word, const Request& request,
                const Person& person, Instant at) {
    const auto part = part_of(word);
    const auto said = said_in(request, {"field"});
    if (!part || !said) {
        return refused(part ? said.problems() : part.problems());
    }
    const auto done = grounds.remove(said->at("field"), *part, person.id, at);
    return done ? json("{}\n") : refused(done.problems());
}

/// The name of a file to be kept: letters, digits and what does no harm in a header.
std::string file_name_of(const std::string& field, std::string_view ending) {
    std::string name;
    for (const char c : field) {
        const bool is_plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                              (c >= '0' && c <= '9') || c == '-' || c == '_';
        name += is_plain ? c : '_';
    }
    return name + "_zones" + std::string(ending);
}

Response zones_out(SeasonKeeper& keeper, Grounds& grounds, const Request& request) {
    const auto said = said_in(request, {"field", "as", "units"});
    if (!said) {
        return refused(said.problems());
    }
    const auto word = said->contains("as") ? said->at("as") : std::string("geojson");
    const auto forms = maps::zone_forms();
    const auto form = std::ranges::find(forms, word, &maps::ZoneForm::word);
    if (form == forms.end()) {
        std::string words;
        for (const auto& one : forms) {
            words += (words.empty() ? "" : ", ") + std::string(one.word);
        }
        return refused(wrong_parameter("as", "'" + word + "' is no form that zones go out in",
                                       "write one of " + words));
    }
    const auto snapshot = keeper.season();
    if (!snapshot) {
        return refused(snapshot.problems());
    }
    if (said->contains("units") && said->at("units") != "metric" && said->at("units") != "us") {
        return refused(wrong_parameter("units", "'" + said->at("units") + "' are no units here",
                                       "write metric or us"));
    }
    const auto& season = (*snapshot)->season;
    const auto plan = grounds.plan(season, said->at("field"));
    if (!plan) {
        return refused(plan.problems());
    }
    const auto units = said->contains("units") && said->at("units") == "us" ? UnitSystem::us
                       : said->contains("units")                            ? UnitSystem::metric
                                                                            : season.units;
    maps::ZoneFileFacts facts{.version = BEETWRIGHT_VERSION,
                              .page = {.units = units,
                                       .currency = season.currency,
                                       .machine = plan->machine,
                                       .at = plan->at,
                                       .cautions = engine::cautions_of_looking()}};
    // A page is drawn with heights where they are known; no other form asks for a surface to be
    // made.
    if (form->word == "page") {
        if (const auto held = grounds.surface(said->at("field"))) {
            facts.page.relief = maps::relief_lines(**held, units);
        }
    }
    auto file = form->write(plan->zones, facts);
    if (!file) {
        return refused(file.problems());
    }
    if (form->word == "page") {
        return compressed(page(std::move(file->bytes)), request);
    }
    return compressed({.status = 200,
                       .type = std::string(form->type),
                       .body = std::move(file->bytes),
                       .headers = {{"Cache-Control", "no-store"},
                                   {"Content-Disposition",
                                    "attachment; filename=\"" +
                                        file_name_of(said->at("field"), form->ending) + "\""}}},
                      request);
}

}  // namespace

void add_ground_routes(Access& access, SeasonKeeper& keeper, Grounds& grounds,
                       std::function<Instant()> clock) {
    access.add(Method::get, "/api/v1/ground", Needs::viewer,
               [&](const Request& request, const PathValues&, const Person*) {
                   return list(keeper, grounds, request);
               });
    access.add(Method::get, "/api/v1/ground/relief", Needs::viewer,
               [&](const Request& request, const PathValues&, const Person*) {
                   return relief(keeper, grounds, request);
               });
    access.add(Method::get, "/api/v1/ground/zones", Needs::viewer,
               [&](const Request& request, const PathValues&, const Person*) {
                   return zones_out(keeper, grounds, request);
               });
    access.add(Method::put, "/api/v1/ground/{part}", Needs::manager,
               [&, clock](const Request& request, const PathValues& values, const Person* person) {
                   return set(keeper, grounds, values.at("part"), request, *person, clock());
               });
    access.add(Method::remove, "/api/v1/ground/{part}", Needs::manager,
               [&, clock = std::move(clock)](const Request& request, const PathValues& values,
                                             const Person* person) {
                   return remove(grounds, values.at("part"), request, *person, clock());
               });
}

}  // namespace beetwright::app
