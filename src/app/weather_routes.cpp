#include "app/weather_routes.hpp"

#include "app/answers.hpp"
#include "app/by_revision.hpp"
#include "app/compression.hpp"
#include "app/credentials.hpp"
#include "io/text_map.hpp"
#include "io/weather_json.hpp"
#include "weather/joined.hpp"

namespace beetwright::app {
namespace {

using http::Method;
using http::PathValues;
using http::Request;
using http::Response;
using io::WeatherPart;
using weather::KnownWeather;

/// The files of a season's folder that hold its weather.
Response weather_files(SeasonKeeper& keeper, AnswerCache& cache, const Request& request) {
    return by_revision(
        keeper, cache, request,
        {.name = "the season's weather",
         .number = [](const Snapshot& snapshot) { return snapshot.weather_revision; },
         .whole =
             [](const Snapshot& snapshot) {
                 const auto& weather = snapshot.season.weather;
                 return json(io::text_map_json(
                     weather == nullptr ? io::FileTexts{}
                                        : io::write_known_weather(*weather, UnitSystem::metric)));
             },
         .added = nullptr});
}

Result<WeatherPart> part_of(const std::string& word) {
    if (const auto part = io::weather_part_named(word)) {
        return *part;
    }
    return Problem{ProblemKind::missing,
                   {.file = "", .line = 0, .field = "part"},
                   "'" + word + "' is no part of a season's weather",
                   "write observed, forecast or usual"};
}

/// What is done with the hours that the season has.
enum class Then { replace, extend };

struct Sent {
    WeatherPart part{};
    Then then = Then::replace;
    io::WeatherFacts facts = {};
    std::string file = {};  ///< its name, for messages
};

Result<Sent> sent_of(const std::string& part_word, const Request& request) {
    const auto part = part_of(part_word);
    if (!part) {
        return part.problems();
    }
    Sent sent{.part = *part, .file = io::file_of(*part)};
    auto said = request.target.query;
    Problems problems;
    if (const auto name = said.extract("file"); !name.empty()) {
        if (auto wrong = wrong_name("file", name.mapped())) {
            problems.push_back(std::move(*wrong));
        } else {
            sent.file = name.mapped();
        }
    }
    if (const auto then = said.extract("then"); !then.empty()) {
        if (then.mapped() == "extend") {
            sent.then = Then::extend;
        } else if (then.mapped() != "replace") {
            problems.push_back(
                wrong_parameter("then", "'" + then.mapped() + "' is neither of the two ways",
                                "write replace, or extend to add hours to those that are there"));
        }
        if (sent.then == Then::extend && sent.part != WeatherPart::observed) {
            problems.push_back(wrong_parameter(
                "then", "only observed weather is added to",
                "leave it out: a new " + part_word + " takes the place of the old"));
        }
    }
    auto facts = io::weather_facts(said);
    if (!facts) {
        problems.insert(problems.end(), facts.problems().begin(), facts.problems().end());
    } else {
        sent.facts = std::move(*facts);
    }
    return problems.empty() ? Result<Sent>(std::move(sent)) : problems;
}

/// The part as the season will have it.
Result<KnownWeather> read(const Sent& sent, const std::string& body, const ledger::Season& season,
                          io::ReadingNotes& notes) {
    KnownWeather weather;
    auto read = io::read_weather_part(sent.part, body, sent.file, sent.facts, weather);
    if (!read) {
        return read.problems();
    }
    notes = std::move(*read);
    const bool has_some = season.weather != nullptr && season.weather->observed.has_value();
    if (sent.then == Then::extend && has_some) {
        auto all = weather::joined(*season.weather->observed, *weather.observed);
        if (!all) {
            auto problems = all.problems();
            for (auto& problem : problems) {
                problem.where.file = sent.file;
            }
            return problems;
        }
        weather.observed = std::move(*all);
    }
    return weather;
}

Response set(SeasonKeeper& keeper, const std::string& part, const Request& request,
             const Person& person, Instant at) {
    const auto sent = sent_of(part, request);
    if (!sent) {
        return refused(sent.problems());
    }
    const auto about =
        io::file_of(sent->part) + (sent->file == io::file_of(sent->part) ? "" : ": " + sent->file);
    io::ReadingNotes notes;
    const auto weather = keeper.set_weather(
        [&](const ledger::Season& season) { return read(*sent, request.body, season, notes); },
        about, person.id, at);
    if (!weather) {
        // What the file does not say is missing in what was sent, not on the server.
        const auto& problems = weather.problems();
        return problems.front().kind == ProblemKind::missing ? refused(problems, 400)
                                                             : refused(problems);
    }
    return compressed(json(io::weather_part_json(sent->part, *weather, notes)), request);
}

Response remove(SeasonKeeper& keeper, const std::string& word, const Person& person, Instant at) {
    const auto part = part_of(word);
    if (!part) {
        return refused(part.problems());
    }
    const auto done = keeper.remove_weather(*part, person.id, at);
    return done ? json("{}\n") : refused(done.problems());
}

}  // namespace

void add_weather_routes(Access& access, SeasonKeeper& keeper, std::shared_ptr<AnswerCache> cache,
                        std::function<Instant()> clock) {
    access.add(Method::get, "/api/v1/weather", Needs::viewer,
               [&keeper, cache = std::move(cache)](const Request& request, const PathValues&,
                                                   const Person*) {
                   return weather_files(keeper, *cache, request);
               });
    access.add(
        Method::put, "/api/v1/weather/{part}", Needs::manager,
        [&keeper, clock](const Request& request, const PathValues& values, const Person* person) {
            return set(keeper, values.at("part"), request, *person, clock());
        });
    access.add(Method::remove, "/api/v1/weather/{part}", Needs::manager,
               [&keeper, clock = std::move(clock)](const Request&, const PathValues& values,
                                                   const Person* person) {
                   return remove(keeper, values.at("part"), *person, clock());
               });
}

}  // namespace beetwright::app
