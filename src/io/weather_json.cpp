#include "io/weather_json.hpp"

#include <cmath>
#include <set>

#include "base/nearest_name.hpp"
#include "engine/weather_days.hpp"
#include "io/decimal.hpp"
#include "io/json.hpp"

namespace beetwright::io {
namespace {

using weather::Element;
using weather::Series;

constexpr double kZeroCelsius_K = 273.15;

Problem wrong(const std::string& name, std::string what, std::string fix) {
    return {ProblemKind::input,
            {.file = "", .line = 0, .field = name},
            std::move(what),
            std::move(fix)};
}

/// What a part consists of: one series, or the runs of a forecast.
std::span<const Series> runs_of(WeatherPart part, const weather::KnownWeather& weather) {
    const auto one = [](const std::optional<Series>& series) {
        return series ? std::span<const Series>(&*series, 1) : std::span<const Series>();
    };
    switch (part) {
        case WeatherPart::observed: return one(weather.observed);
        case WeatherPart::forecast: return weather.forecast;
        case WeatherPart::usual: return one(weather.climate);
    }
    return {};
}

/// To a thousandth: nobody reads more, and it is what keeps a year of days short.
Json rounded(double number) {
    constexpr double kThousand = 1000.0;
    return std::isnan(number) ? Json(nullptr) : Json(std::round(number * kThousand) / kThousand);
}

Json day_object(const engine::WeatherDayShown& day) {
    return {{"day", to_text(day.day)},
            {"hours", day.hours},
            {"filled", day.filled},
            {"least_c", rounded(day.least_K - kZeroCelsius_K)},
            {"mean_c", rounded(day.mean_K - kZeroCelsius_K)},
            {"most_c", rounded(day.most_K - kZeroCelsius_K)},
            {"rain_mm", rounded(day.rain_mm)},
            {"most_rain_mm", rounded(day.most_rain_mm)}};
}

Json part_object(WeatherPart part, std::span<const Series> runs) {
    const Series& first = runs.front();
    Json object = {{"part", word_of(part)},
                   {"name", first.name},
                   {"latitude", rounded(first.place.latitude_rad / weather::kDegree)},
                   {"longitude", rounded(first.place.longitude_rad / weather::kDegree)},
                   {"elevation_m", rounded(first.place.elevation_m)},
                   {"clock_minutes", first.clock.count()},
                   {"begin", to_text(first.begin)},
                   {"end", to_text(first.begin_of(first.hours.size()))},
                   {"runs", runs.size()},
                   {"hours", first.hours.size()},
                   {"filled", first.filled.size()}};
    auto& measured = object["measured"] = Json::array();
    for (std::size_t e = 0; e < weather::kElements; ++e) {
        const auto element = static_cast<Element>(e);
        if (first.has(element)) {
            measured.push_back(weather::words_of(element));
        }
    }
    auto& days = object["days"] = Json::array();
    for (const auto& day : engine::weather_days(runs)) {
        days.push_back(day_object(day));
    }
    return object;
}

/// Numbers and the clock of somebody's words, with what is wrong gathered.
class Said {
 public:
    explicit Said(const std::map<std::string, std::string>& said) : said_(said) {}

    [[nodiscard]] std::string text(const std::string& name) const {
        const auto found = said_.find(name);
        return found == said_.end() ? std::string() : found->second;
    }
    std::optional<double> number(const std::string& name, double least, double most) {
        const auto word = text(name);
        if (word.empty()) {
            return std::nullopt;
        }
        const auto read = leading_decimal(word);
        if (!read || read->length != word.size()) {
            problems.push_back(wrong(name, "'" + word + "' is not a number",
                                     "write degrees with decimals, and metres"));
        } else if (read->value < least || read->value > most) {
            problems.push_back(wrong(name, word + " is no " + name,
                                     "north and east are positive, south and west negative"));
        } else {
            return read->value;
        }
        return std::nullopt;
    }
    std::optional<std::chrono::minutes> clock(const std::string& name) {
        const auto word = text(name);
        if (word.empty()) {
            return std::nullopt;
        }
        const auto read = parse_clock(word);
        if (!read) {
            auto problem = read.problems().front();
            problem.where.field = name;
            problems.push_back(std::move(problem));
            return std::nullopt;
        }
        return *read;
    }
    Problems problems;

 private:
    const std::map<std::string, std::string>& said_;
};

}  // namespace

Result<WeatherFacts> weather_facts(const std::map<std::string, std::string>& said) {
    static const std::set<std::string> known{"latitude", "longitude", "elevation", "clock",
                                             "headings"};
    Said words(said);
    for (const auto& [name, value] : said) {
        if (!known.contains(name)) {
            words.problems.push_back(wrong(name, "nothing of this name is said of weather",
                                           did_you_mean(name, known) + "Leave it out, or mend it"));
        }
    }
    WeatherFacts facts;
    facts.latitude_deg = words.number("latitude", -90.0, 90.0);
    facts.longitude_deg = words.number("longitude", -180.0, 180.0);
    facts.elevation_m = words.number("elevation", -500.0, 9000.0);
    facts.clock = words.clock("clock");
    facts.headings = words.text("headings");
    if (!words.problems.empty()) {
        return words.problems;
    }
    return facts;
}

std::string weather_part_json(WeatherPart part, const weather::KnownWeather& weather,
                              const ReadingNotes& notes) {
    auto object = part_object(part, runs_of(part, weather));
    object["notes"] = notes;
    return object.line() + "\n";
}

std::string weather_json(const weather::KnownWeather* weather) {
    Json all = Json::array();
    for (const auto part : kWeatherParts) {
        if (weather != nullptr && !runs_of(part, *weather).empty()) {
            all.push_back(part_object(part, runs_of(part, *weather)));
        }
    }
    return all.line() + "\n";
}

}  // namespace beetwright::io
