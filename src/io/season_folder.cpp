#include "io/season_folder.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>
#include <system_error>

#include "base/nearest_name.hpp"
#include "io/json_object.hpp"
#include "io/season_read.hpp"
#include "io/season_tables.hpp"
#include "io/terms_json.hpp"

namespace beetwright::io {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

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
        if (!object.contains("beetwright_season") ||
            object["beetwright_season"] != kSeasonVersion) {
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
        if (object.contains("seed")) {
            if (object["seed"].is_number_unsigned()) {
                season_.seed = object["seed"].get<std::uint64_t>();
            } else {
                fail("seed", "this is not a whole number",
                     "write a number of 0 or more, or leave it out");
            }
        }
        const std::set<std::string> known{"beetwright_season", "name", "currency", "units",
                                          "first_day",         "seed"};
        for (const auto& [key, value] : object.items()) {
            if (!known.contains(key)) {
                fail(key, "this key is not known",
                     "the keys are beetwright_season, name, currency, units, first_day, seed");
            }
        }
    }

 private:
    std::string text(const Json& object, const char* key) {
        if (!object.contains(key) || !object[key].is_string() ||
            object[key].get<std::string>().empty()) {
            fail(key, "this is missing or not text", "write it in quotes");
            return {};
        }
        return object[key].get<std::string>();
    }
    void fail(const std::string& field, std::string what, std::string fix) {
        problems_.add({.file = kSeasonFile, .line = 0, .field = field}, std::move(what),
                      std::move(fix));
    }

    ledger::Season& season_;
    ProblemList& problems_;
};

Problem outside(const fs::path& path, const char* what, const char* fix) {
    return {ProblemKind::outside, {.file = path.string(), .line = 0, .field = ""}, what, fix};
}

/// Nobody converts money here: one currency, or the sums would be of nothing.
void check_currency(const ledger::Season& season, ProblemList& problems) {
    if (!season.currency.empty() && season.terms.currency != season.currency) {
        problems.add({.file = kTermsFile, .line = 0, .field = "currency"},
                     "the terms pay in " + season.terms.currency + ", and season.json says " +
                         season.currency,
                     "write the same currency in both; money is not converted");
    }
}

std::set<std::string> known_files() {
    std::set<std::string> names{kSeasonFile, kTermsFile};
    for (const Table* table : season_tables()) {
        names.insert(std::string(table->file));
    }
    return names;
}

/// Tables under names that nobody knows: each would pass for one that is not there.
Problems strangers(const std::string& folder, const FileTexts& known) {
    Problems problems;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(folder, error)) {
        const auto name = entry.path().filename().string();
        if (entry.path().extension() == ".csv" && !known.contains(name)) {
            problems.push_back({ProblemKind::input,
                                {.file = entry.path().string(), .line = 0, .field = ""},
                                "no table of a season is called this",
                                did_you_mean(name, known_files()) +
                                    "Name it as docs/formats/season_folder.md has it, or move it "
                                    "away"});
        }
    }
    return problems;
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
    NamesUsed names;
    Corrections corrections;
    const FolderReading reading{files, season, problems, names, corrections, answer.places};
    read_masters(reading);
    read_observations(reading);
    names.tell(problems);
    corrections.resolve(known, season, problems);
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

Result<ledger::Season> read_season_folder(const std::string& path) {
    auto reading = read_season_folder_rows(path, {});
    if (!reading) {
        return reading.problems();
    }
    return std::move(reading->season);
}

Result<SeasonReading> read_season_folder_rows(const std::string& path, const KnownIds& known) {
    std::error_code error;
    if (!fs::is_directory(path, error)) {
        return Problem{ProblemKind::missing,
                       {.file = path, .line = 0, .field = ""},
                       "there is no such folder",
                       "name the folder that holds season.json"};
    }
    FileTexts files;
    for (const auto& name : known_files()) {
        const fs::path file = fs::path(path) / name;
        if (!fs::exists(file, error)) {
            continue;
        }
        std::ifstream in(file, std::ios::binary);
        std::string bytes{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
        if (!in) {
            return outside(file, "this file could not be read", "see who may read it");
        }
        files[name] = std::move(bytes);
    }
    // Places are told with the folder, so that they can be opened as they stand.
    const auto in_folder = [&](Where& where) {
        where.file = where.file.empty() ? "" : (fs::path(path) / where.file).string();
    };
    Problems problems = strangers(path, files);
    auto reading = read_season_rows(files, known);
    if (reading && problems.empty()) {
        for (auto& [id, where] : reading->places) {
            in_folder(where);
        }
        return reading;
    }
    if (!reading) {
        for (Problem problem : reading.problems()) {
            in_folder(problem.where);
            problems.push_back(std::move(problem));
        }
    }
    return problems;
}

Result<Done> write_season_folder(const ledger::Season& season, const std::string& path,
                                 UnitSystem system) {
    std::error_code error;
    fs::create_directories(path, error);
    if (error) {
        return outside(path, "this folder cannot be made", "see that its parent may be written");
    }
    const auto files = write_season(season, system);
    for (const auto& name : known_files()) {
        if (!files.contains(name) && fs::exists(fs::path(path) / name, error)) {
            return Problem{ProblemKind::conflict,
                           {.file = (fs::path(path) / name).string(), .line = 0, .field = ""},
                           "this table is here already and is not of this season",
                           "write to an empty folder: it would be read together with the rest"};
        }
    }
    const auto beside = [&](const std::string& name) { return fs::path(path) / (name + ".part"); };
    const auto give_up = [&](const std::string& name) -> Problem {
        for (const auto& [each, text] : files) {
            fs::remove(beside(each), error);
        }
        return outside(fs::path(path) / name,
                       "this file could not be written; the folder is as it was",
                       "see that the disk has room");
    };
    for (const auto& [name, text] : files) {
        std::ofstream out(beside(name), std::ios::binary);
        out << text;
        out.flush();
        if (!out) {
            return give_up(name);
        }
    }
    for (const auto& [name, text] : files) {
        fs::rename(beside(name), fs::path(path) / name, error);
        if (error) {
            return give_up(name);
        }
    }
    return Done{};
}

}  // namespace beetwright::io
