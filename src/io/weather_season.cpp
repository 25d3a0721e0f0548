#include "io/weather_season.hpp"

#include <cmath>

#include "base/contract.hpp"
#include "io/csv.hpp"
#include "io/decimal.hpp"
#include "io/numbers.hpp"
#include "io/table.hpp"
#include "io/weather_parts.hpp"

namespace beetwright::io {
namespace {

using weather::Element;
using weather::Series;

constexpr std::array<std::string_view, 3> kWords{"observed", "forecast", "usual"};
constexpr int kDegreeDigits = 12;
constexpr double kMillimetre_m = 1e-3;

/// "+01:00"
std::string clock_text(std::chrono::minutes clock) {
    const auto minutes = std::abs(clock.count());
    const auto two = [](std::int64_t n) { return (n < 10 ? "0" : "") + std::to_string(n); };
    return (clock.count() < 0 ? "-" : "+") + two(minutes / 60) + ":" + two(minutes % 60);
}

/// A remark is a line.
std::string one_line(std::string text) {
    for (char& c : text) {
        c = c == '\n' || c == '\r' ? ' ' : c;
    }
    return text;
}

std::string remarks(const Series& series) {
    const auto degrees = [](double radians) {
        return number_text(rounded_to_digits(radians / weather::kDegree, kDegreeDigits));
    };
    std::string text;
    if (!series.name.empty()) {
        text += "# station: " + one_line(series.name) + "\n";
    }
    text += "# latitude: " + degrees(series.place.latitude_rad) + "\n";
    text += "# longitude: " + degrees(series.place.longitude_rad) + "\n";
    text += "# elevation: " + number_text(series.place.elevation_m) + "\n";
    text += "# clock: " + clock_text(series.clock) + "\n";
    return text;
}

/// The table of one or several runs, all with the same elements.
std::string table_of(std::span<const Series> runs, UnitSystem system) {
    const Series& first = runs.front();
    const auto columns = weather_element_columns();
    struct Written {
        Element element;
        Unit unit;
    };
    std::vector<Written> written;
    CsvWriter csv;
    csv.cell("hour_beginning");
    if (runs.size() > 1) {
        csv.cell("run");
    }
    csv.cell("filled");
    for (std::size_t e = 0; e < weather::kElements; ++e) {
        const auto element = static_cast<Element>(e);
        if (!first.has(element)) {
            continue;
        }
        csv.cell(header_text(columns[e], system));
        const auto symbol = system == UnitSystem::us ? columns[e].us_unit : columns[e].metric_unit;
        const auto unit = find_unit(symbol);
        require(unit.has_value(), "the columns' units are known");
        written.push_back({element, *unit});
    }
    csv.end_row();
    for (std::size_t r = 0; r < runs.size(); ++r) {
        const Series& run = runs[r];
        std::size_t next_filled = 0;
        for (std::size_t k = 0; k < run.hours.size(); ++k) {
            csv.cell(to_text(run.begin_of(k)));
            if (runs.size() > 1) {
                csv.cell(std::to_string(r + 1));
            }
            const bool is_filled = next_filled < run.filled.size() && run.filled[next_filled] == k;
            next_filled += is_filled ? 1 : 0;
            csv.cell(is_filled ? "yes" : "");
            for (const auto& [element, unit] : written) {
                const double value = run.at(k, element);
                csv.cell(
                    number_text(element == Element::rain ? value * kMillimetre_m : value, unit));
            }
            csv.end_row();
        }
    }
    return remarks(first) + std::move(csv).take();
}

}  // namespace

std::string_view word_of(WeatherPart part) {
    return kWords[static_cast<std::size_t>(part)];
}

std::optional<WeatherPart> weather_part_named(std::string_view word) {
    for (const auto part : kWeatherParts) {
        if (word_of(part) == word) {
            return part;
        }
    }
    return std::nullopt;
}

std::string file_of(WeatherPart part) {
    return "weather_" + std::string(word_of(part)) + ".csv";
}

Result<ReadingNotes> read_weather_part(WeatherPart part, std::string_view bytes,
                                       const std::string& file, const WeatherFacts& facts,
                                       weather::KnownWeather& into) {
    if (part == WeatherPart::forecast) {
        auto read = read_forecast(bytes, file, facts);
        if (!read) {
            return read.problems();
        }
        into.forecast = std::move(read->runs);
        return std::move(read->notes);
    }
    auto read = read_weather(bytes, file, facts);
    if (!read) {
        return read.problems();
    }
    (part == WeatherPart::observed ? into.observed : into.climate) = std::move(read->series);
    return std::move(read->notes);
}

Result<weather::KnownWeather> read_known_weather(const FileTexts& files) {
    weather::KnownWeather weather;
    Problems problems;
    for (const auto part : kWeatherParts) {
        const auto file = file_of(part);
        const auto found = files.find(file);
        if (found == files.end()) {
            continue;
        }
        const auto read = read_weather_part(part, found->second, file, {}, weather);
        if (!read) {
            problems.insert(problems.end(), read.problems().begin(), read.problems().end());
        }
    }
    return problems.empty() ? Result<weather::KnownWeather>(std::move(weather)) : problems;
}

FileTexts write_known_weather(const weather::KnownWeather& weather, UnitSystem system) {
    FileTexts files;
    if (weather.observed) {
        files[file_of(WeatherPart::observed)] = table_of({&*weather.observed, 1}, system);
    }
    if (!weather.forecast.empty()) {
        files[file_of(WeatherPart::forecast)] = table_of(weather.forecast, system);
    }
    if (weather.climate) {
        files[file_of(WeatherPart::usual)] = table_of({&*weather.climate, 1}, system);
    }
    return files;
}

}  // namespace beetwright::io
