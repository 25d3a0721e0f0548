#include "io/season_folder.hpp"

#include <set>

#include "base/nearest_name.hpp"
#include "io/json.hpp"
#include "io/json_object.hpp"
#include "io/season_read.hpp"
#include "io/season_tables.hpp"
#include "io/terms_json.hpp"
#include "io/weather_season.hpp"

namespace beetwright::io {
namespace {

constexpr const char* kSeasonFile = "season.json";
constexpr const char* kTermsFile = "terms.json";

/// Reads season.json into the season's own facts.
class SeasonFacts {
 public:
    SeasonFacts(ledger::Season& season, ProblemList& problems)
        : season_(season), problems_(problems) {}

    void read(const std::string& bytes) {
        const auto parsed = parse_json(bytes, kSeasonFile);
        if (!parsed) {
            problems_.add(parsed.problems());
            return;
        }
        const Json& object = *parsed;
        if (!object.is_object()) {
            fail("", "this is not a JSON object", "write { \"beetwright_season\": 1, ... }");
            return;
        }
        const auto* version = object.find("beetwright_season");
        if (version == nullptr || version->number() != kSeasonVersion) {
            fail("beetwright_season", "this is not a version of the season folder we know",
                 "write \"beetwright_season\": 1");
        }
        season_.name = text(object, "name");
        season_.currency = text(object, "currency");
        const auto units = text(object, "units");
        if (units != "metric" && units != "us") {
            fail("units", "'" + units + "' is not a system of units", "write metric or us");
        }
        season_.units = units == "us" ? UnitSystem::us : UnitSystem::metric;
        const auto day_text = text(object, "first_day");
        if (const auto day = parse_day(day_text)) {
            season_.first_day = *day;
        } else {
            fail("first_day", "'" + day_text + "' is not a day",
                 "write year-month-day, such as 2031-09-15");
        }
        if (const auto* seed = object.find("seed")) {
            if (const auto count = seed->count()) {
                season_.seed = *count;
            } else {
                fail("seed", "this is not a whole number",
                     "write a number of 0 or more, or leave it out");
            }
        }
        const std::set<std::string> known{"beetwright_season", "name", "currency", "units",
                                          "first_day",         "seed"};
        for (const auto& member : object.members()) {
            if (!known.contains(member.name)) {
                fail(member.name, "this key is not known",
                     "the keys are beetwright_season, name, currency, units, first_day, seed");
            }
        }
    }

 private:
    std::string text(const Json& object, const char* key) {
        const auto* value = object.find(key);
        const auto* text = value == nullptr ? nullptr : value->text();
        if (text == nullptr || text->empty()) {
            fail(key, "this is missing or not text", "write it in quotes");
            return {};
        }
        return *text;
    }
    void fail(const std::string& field, std::string what, std::string fix) {
        problems_.add({.file = kSeasonFile, .line = 0, .field = field}, std::move(what),
                      std::move(fix));
    }

    ledger::Season& season_;
    ProblemList& problems_;
};

/// Nobody converts money here: one currency, or the sums would be of nothing.
void check_currency(const ledger::Season& season, ProblemList& problems) {
    if (!season.currency.empty() && season.terms.currency != season.currency) {
        problems.add({.file = kTermsFile, .line = 0, .field = "currency"},
                     "the terms pay in " + season.terms.currency + ", and season.json says " +
                         season.currency,
                     "write the same currency in both; money is not converted");
    }
}

}  // namespace

Result<SeasonReading> read_season_rows(const FileTexts& files, const KnownIds& known) {
    SeasonReading answer;
    ledger::Season& season = answer.season;
    ProblemList problems;
    if (const auto found = files.find(kSeasonFile); found != files.end()) {
        SeasonFacts(season, problems).read(found->second);
    } else {
        problems.add({ProblemKind::missing,
                      {.file = kSeasonFile, .line = 0, .field = ""},
                      "this file is missing",
                      "was the whole folder copied? It names the season, its currency and units"});
    }
    season.terms.currency = season.currency;
    if (const auto found = files.find(kTermsFile); found != files.end()) {
        auto terms = read_terms(found->second, kTermsFile);
        if (!terms) {
            problems.add(terms.problems());
        } else {
            season.terms = std::move(*terms);
            check_currency(season, problems);
        }
    }
    auto weather = read_known_weather(files);
    if (!weather) {
        problems.add(weather.problems());
    } else if (!weather->is_empty()) {
        season.weather = std::make_shared<const weather::KnownWeather>(std::move(*weather));
    }
    NamesUsed names;
    Corrections corrections;
    const FolderReading reading{files, season, season, problems, names, corrections, answer.places};
    read_masters(reading);
    read_observations(reading);
    names.tell(problems);
    corrections.resolve(known, season, problems);
    if (!problems.empty()) {
        return std::move(problems).take();
    }
    return answer;
}

Result<SeasonReading> read_observation_rows(const FileTexts& files, const ledger::Season& season,
                                            const KnownIds& known) {
    SeasonReading answer;
    answer.season.currency = season.currency;
    ProblemList problems;
    std::set<std::string> tables;
    for (const Table* table : observation_tables()) {
        tables.emplace(table->file);
    }
    for (const auto& [name, text] : files) {
        if (!tables.contains(name)) {
            problems.add({.file = name, .line = 0, .field = ""},
                         "this is not a table of observations",
                         did_you_mean(name, tables) + "docs/formats/season_folder.md lists them");
        }
    }
    NamesUsed names;
    names.introduce(season);
    Corrections corrections;
    const FolderReading reading{files, answer.season, season,       problems,
                                names, corrections,   answer.places};
    read_observations(reading);
    names.tell(problems);
    corrections.resolve(known, answer.season, problems);
    if (!problems.empty()) {
        return std::move(problems).take();
    }
    return answer;
}

Result<ledger::Season> read_season(const FileTexts& files) {
    auto reading = read_season_rows(files, {});
    if (!reading) {
        return reading.problems();
    }
    return std::move(reading->season);
}

}  // namespace beetwright::io
