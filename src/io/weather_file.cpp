#include "io/weather_file.hpp"

#include <algorithm>
#include <map>

#include "base/sorted.hpp"
#include "io/encoding.hpp"
#include "io/weather_parts.hpp"

namespace beetwright::io {
namespace {

WeatherFormat format_of(std::string_view text, const WeatherFacts& facts) {
    if (text.starts_with("LOCATION,")) {
        return WeatherFormat::epw;
    }
    const auto second = text.substr(std::min(text.find('\n') + 1, text.size()));
    if (second.starts_with("Date (MM/DD/YYYY)")) {
        return WeatherFormat::tmy3;
    }
    return is_table_of_days(text, facts) ? WeatherFormat::days : WeatherFormat::table;
}

/// All rows of a file, with what it says of itself.
struct FileRows {
    WeatherRows rows;
    WeatherFormat format = WeatherFormat::table;
};

Result<FileRows> rows_of(std::string_view bytes, const std::string& file,
                         const WeatherFacts& facts) {
    std::string decoded;
    const auto text = as_utf8(bytes, decoded, file);
    if (!text) {
        return text.problems();
    }
    FileRows read;
    read.format = format_of(*text, facts);
    WeatherRows& rows = read.rows;
    rows.facts.file = file;
    ProblemList problems;
    switch (read.format) {
        case WeatherFormat::epw: read_epw(*text, rows, problems); break;
        case WeatherFormat::tmy3: read_tmy3(*text, rows, problems); break;
        case WeatherFormat::days: read_weather_days(*text, facts, rows, problems); break;
        case WeatherFormat::table: read_weather_table(*text, facts, rows, problems); break;
    }
    if (!problems.empty()) {
        return std::move(problems).take();
    }
    if (facts.latitude_deg && facts.longitude_deg) {
        rows.facts.place = weather::Place::degrees(*facts.latitude_deg, *facts.longitude_deg,
                                                   facts.elevation_m.value_or(0.0));
    }
    return read;
}

/// Some of a file's records as a series. Hours that were filled in when the file was written stay
/// marked.
Result<weather::Series> series_of(const std::vector<weather::Record>& records,
                                  const std::vector<Instant>& filled,
                                  const weather::SourceFacts& facts) {
    auto series = weather::series_from(records, facts);
    if (!series || filled.empty()) {
        return series;
    }
    for (const Instant at : filled) {
        const auto hour = (at - series->begin) / std::chrono::hours(1) -
                          (facts.stamp == weather::Stamp::hour_ending ? 1 : 0);
        if (hour >= 0 && hour < static_cast<std::int64_t>(series->hours.size())) {
            series->filled.push_back(static_cast<std::uint32_t>(hour));
        }
    }
    sort_list(series->filled);
    const auto doubled = std::ranges::unique(series->filled);
    series->filled.erase(doubled.begin(), doubled.end());
    return series;
}

/// The records of one run, and when those were that had been filled in.
struct Run {
    std::vector<weather::Record> records;
    std::vector<Instant> filled;
};

std::map<int, Run> runs_of(const WeatherRows& rows) {
    std::map<int, Run> runs;
    for (std::size_t k = 0; k < rows.records.size(); ++k) {
        Run& run = runs[rows.runs.empty() ? 0 : rows.runs[k]];
        run.records.push_back(rows.records[k]);
        if (k < rows.was_filled.size() && rows.was_filled[k]) {
            run.filled.push_back(rows.records[k].at);
        }
    }
    return runs;
}

Problem unlike_hours(const std::string& file, int run, const weather::Series& series, int first,
                     const weather::Series& of_first) {
    const auto span = [](const weather::Series& s) {
        return std::to_string(s.hours.size()) + " hours from " + to_text(s.begin);
    };
    return {ProblemKind::input,
            {.file = file, .line = 0, .field = "run"},
            "run " + std::to_string(run) + " has " + span(series) + ", and run " +
                std::to_string(first) + " has " + span(of_first),
            "give the same hours in every run"};
}

Problem unlike_elements(const std::string& file, int run, weather::Element element) {
    return {ProblemKind::input,
            {.file = file, .line = 0, .field = "run"},
            "the " + std::string(weather::words_of(element)) +
                " stands in some runs and not in run " + std::to_string(run) +
                ", or the other way round",
            "give the same columns in every run, or leave the column out"};
}

}  // namespace

Result<WeatherReading> read_weather(std::string_view bytes, const std::string& file,
                                    const WeatherFacts& facts) {
    auto read = rows_of(bytes, file, facts);
    if (!read) {
        return read.problems();
    }
    auto runs = runs_of(read->rows);
    if (runs.size() > 1) {
        return Problem{ProblemKind::input,
                       {.file = file, .line = 0, .field = "run"},
                       "these are " + std::to_string(runs.size()) +
                           " runs of a forecast; weather that was, was once",
                       "keep it as a forecast, or cut one run out"};
    }
    const Run all = runs.empty() ? Run{} : std::move(runs.begin()->second);
    auto series = series_of(all.records, all.filled, read->rows.facts);
    if (!series) {
        return series.problems();
    }
    return WeatherReading{.series = std::move(*series),
                          .format = read->format,
                          .stamp = read->rows.facts.stamp,
                          .is_typical_year = read->rows.is_typical_year,
                          .notes = std::move(read->rows.notes)};
}

Result<ForecastReading> read_forecast(std::string_view bytes, const std::string& file,
                                      const WeatherFacts& facts) {
    auto read = rows_of(bytes, file, facts);
    if (!read) {
        return read.problems();
    }
    auto runs = runs_of(read->rows);
    if (runs.empty()) {
        runs.try_emplace(0);  // of which it is told that there are no rows
    }
    ForecastReading forecast;
    forecast.format = read->format;
    forecast.notes = std::move(read->rows.notes);
    Problems problems;
    for (const auto& [number, run] : runs) {
        auto series = series_of(run.records, run.filled, read->rows.facts);
        if (!series) {
            for (auto problem : series.problems()) {
                problem.what = (number > 0 ? "run " + std::to_string(number) + ": " : "") +
                               std::move(problem.what);
                problems.push_back(std::move(problem));
            }
            continue;
        }
        if (!forecast.runs.empty()) {
            const auto& first = forecast.runs.front();
            if (series->begin != first.begin || series->hours.size() != first.hours.size()) {
                problems.push_back(unlike_hours(file, number, *series, runs.begin()->first, first));
            }
            for (std::size_t e = 0; e < weather::kElements; ++e) {
                const auto element = static_cast<weather::Element>(e);
                if (series->has(element) != first.has(element)) {
                    problems.push_back(unlike_elements(file, number, element));
                }
            }
        }
        forecast.runs.push_back(std::move(*series));
    }
    return problems.empty() ? Result<ForecastReading>(std::move(forecast)) : problems;
}

Result<std::chrono::minutes> parse_clock(std::string_view text) {
    // An instant's offset is written the same way.
    const auto there = parse_instant("2031-01-01T12:00:00" + std::string(text));
    const auto here = parse_instant("2031-01-01T12:00:00Z");
    if (text.empty() || !there) {
        return Problem{ProblemKind::input,
                       {},
                       "'" + std::string(text) + "' is not how far a clock is ahead of UTC",
                       "write it as +01:00 or -08:00"};
    }
    return std::chrono::duration_cast<std::chrono::minutes>(*here - *there);
}

}  // namespace beetwright::io
