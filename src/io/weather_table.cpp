// A plain table of hours: a column for the time, whose name says what it is the time of, and a
// column for each thing measured, with its unit in the heading. Lines such as `# latitude: 53.1` at
// the top say where.
#include <array>
#include <cmath>

#include "base/trimmed.hpp"
#include "io/decimal.hpp"
#include "io/table.hpp"
#include "io/weather_parts.hpp"

namespace beetwright::io {
namespace {

using weather::Element;
using weather::Record;
using weather::Stamp;

enum Place : std::size_t { at, hour_ending, hour_beginning, run, filled, first_element };

constexpr std::array kYesNo{Word{"no", 0}, Word{"yes", 1}};

constexpr Column time_column(std::string_view name, std::string_view words) {
    return {.name = name, .kind = CellKind::instant, .words = words};
}

constexpr Column measured(std::string_view name, UnitKind kind, std::string_view metric,
                          std::string_view us, double least, double most, std::string_view words) {
    return {.name = name,
            .kind = CellKind::number,
            .words = words,
            .unit_kind = kind,
            .metric_unit = metric,
            .us_unit = us,
            .least = least,
            .most = most};
}

// The elements stand in the order of weather::Element. Bounds in SI.
constexpr std::array kColumns{
    time_column("at", "the instant of which the values are; rain is what fell in the hour before"),
    time_column("hour_ending", "the end of the hour over which the values are means"),
    time_column("hour_beginning", "its beginning"),
    Column{.name = "run",
           .kind = CellKind::number,
           .words = "which run of a forecast the row is of",
           .unit_kind = UnitKind::number,
           .least = 1.0,
           .most = 1000.0,
           .digits = Digits::whole},
    Column{.name = "filled",
           .kind = CellKind::word,
           .words = "whether something in this hour was filled in",
           .allowed = kYesNo},
    measured("temperature", UnitKind::temperature, "°C", "°F", 183.15, 363.15, "of the air"),
    measured("dew_point", UnitKind::temperature, "°C", "°F", 173.15, 323.15, "dew point"),
    measured("humidity", UnitKind::fraction, "%", "%", 0.0, 1.1, "relative"),
    measured("pressure", UnitKind::pressure, "hPa", "inHg", 31e3, 120e3, "at the station"),
    measured("wind", UnitKind::speed, "m/s", "mph", 0.0, 100.0, "mean, at 10 m"),
    measured("rain", UnitKind::length, "mm", "in", 0.0, 0.5, "in the hour"),
    measured("global", UnitKind::irradiance, "W/m2", "W/m2", 0.0, 1600.0, "sunshine on the level"),
    measured("direct", UnitKind::irradiance, "W/m2", "W/m2", 0.0, 1600.0, "square to the rays"),
    measured("diffuse", UnitKind::irradiance, "W/m2", "W/m2", 0.0, 1600.0, "from the sky"),
    measured("sky", UnitKind::irradiance, "W/m2", "W/m2", 0.0, 1000.0, "infra-red of the sky"),
    measured("cloud", UnitKind::fraction, "%", "%", 0.0, 1.0, "share of the sky"),
    measured("snow", UnitKind::length, "cm", "in", 0.0, 20.0, "depth on the ground")};
static_assert(kColumns.size() == first_element + weather::kElements);

/// `# latitude: 53.1` at the top of the file.
class Remarks {
 public:
    Remarks(std::string_view bytes, WeatherRows& rows, ProblemList& problems)
        : rows_(rows), problems_(problems) {
        int line = 0;
        while (!bytes.empty()) {
            ++line;
            const auto end = std::min(bytes.find('\n'), bytes.size());
            auto text = bytes.substr(0, end);
            bytes.remove_prefix(std::min(end + 1, bytes.size()));
            if (text.ends_with('\r')) {
                text.remove_suffix(1);
            }
            if (!text.starts_with('#')) {
                break;
            }
            if (const auto colon = text.find(':'); colon != std::string_view::npos) {
                take(line, trimmed(text.substr(1, colon - 1), " "),
                     trimmed(text.substr(colon + 1), " "));
            }
        }
    }
    WeatherFacts said;

 private:
    void take(int line, std::string_view key, std::string_view value) {
        if (key == "station") {
            rows_.facts.name = std::string(value);
        } else if (key == "latitude") {
            number(line, key, value, -90.0, 90.0, said.latitude_deg);
        } else if (key == "longitude") {
            number(line, key, value, -180.0, 180.0, said.longitude_deg);
        } else if (key == "elevation") {
            number(line, key, value, -500.0, 9000.0, said.elevation_m);
        } else if (key == "clock") {
            const auto clock = parse_clock(value);
            if (clock) {
                said.clock = *clock;
            } else {
                auto problem = clock.problems().front();
                problem.where = {.file = rows_.facts.file, .line = line, .field = std::string(key)};
                problems_.add(std::move(problem));
            }
        }
    }
    void number(int line, std::string_view key, std::string_view value, double least, double most,
                std::optional<double>& into) {
        const auto read = leading_decimal(value);
        if (!read || read->length != value.size() || read->value < least || read->value > most) {
            problems_.add({.file = rows_.facts.file, .line = line, .field = std::string(key)},
                          "'" + std::string(value) + "' is no " + std::string(key),
                          "write a number, degrees with decimals and metres");
            return;
        }
        into = read->value;
    }

    WeatherRows& rows_;
    ProblemList& problems_;
};

/// The file with our headings in place of its own.
std::string with_headings(std::string_view bytes, const std::string& headings) {
    std::size_t from = 0;
    while (from < bytes.size() && bytes[from] == '#') {
        from = std::min(bytes.find('\n', from), bytes.size() - 1) + 1;
    }
    const auto end = std::min(bytes.find('\n', from), bytes.size());
    return std::string(bytes.substr(0, from)) + headings + std::string(bytes.substr(end));
}

}  // namespace

std::span<const Column> weather_element_columns() {
    return std::span(kColumns).subspan(first_element);
}

void read_weather_table(std::string_view bytes, const WeatherFacts& given, WeatherRows& rows,
                        ProblemList& problems) {
    std::string replaced;
    if (!given.headings.empty()) {
        replaced = with_headings(bytes, given.headings);
        bytes = replaced;
    }
    const Remarks remarks(bytes, rows, problems);
    const auto one_of = [](const auto& first, const auto& second) {
        return first ? first : second;
    };
    const auto latitude = one_of(given.latitude_deg, remarks.said.latitude_deg);
    const auto longitude = one_of(given.longitude_deg, remarks.said.longitude_deg);
    const auto elevation = one_of(given.elevation_m, remarks.said.elevation_m);
    if (!latitude || !longitude) {
        problems.add(
            {ProblemKind::missing,
             {.file = rows.facts.file, .line = 0, .field = latitude ? "longitude" : "latitude"},
             "the file does not say where this was measured",
             "begin it with the lines `# latitude: 53.1` and `# longitude: 8.2`, or say so on "
             "the command line"});
    }
    rows.facts.place = weather::Place::degrees(latitude.value_or(0.0), longitude.value_or(0.0),
                                               elevation.value_or(0.0));
    constexpr double kDegreesOfAnHour = 15.0;
    rows.facts.clock =
        one_of(given.clock, remarks.said.clock)
            .value_or(std::chrono::hours(std::lround(longitude.value_or(0.0) / kDegreesOfAnHour)));

    const Table table{.file = rows.facts.file,
                      .presence = Presence::required,
                      .words = "The weather, hour by hour.",
                      .columns = kColumns};
    TableReader reader(table, bytes, "", problems);
    if (!reader.open()) {
        return;
    }
    std::optional<std::size_t> time;
    bool is_told = false;
    reader.read(
        [&](const TableRow& row) {
            const std::size_t times = (row.has(at) ? 1U : 0U) + (row.has(hour_ending) ? 1U : 0U) +
                                      (row.has(hour_beginning) ? 1U : 0U);
            if (times != 1) {
                if (!is_told) {
                    reader.fail(at,
                                times == 0 ? "no column says when this was"
                                           : "two columns say when this was",
                                "give one of the columns at, hour_ending and hour_beginning");
                }
                is_told = true;
                return;
            }
            const std::size_t column =
                row.has(at) ? at : (row.has(hour_ending) ? hour_ending : hour_beginning);
            if (time.value_or(column) != column) {
                reader.fail(column, "the rows above give another time than this one",
                            "give the same column for all rows");
                return;
            }
            time = column;
            Record record;
            record.line = row.line();
            record.at = row.instant(column);
            for (std::size_t e = 0; e < weather::kElements; ++e) {
                record.values[e] = row.number(first_element + e);
            }
            constexpr double kMetresToMillimetres = 1000.0;
            record.values[static_cast<std::size_t>(Element::rain)] *= kMetresToMillimetres;
            const bool has_runs = !rows.runs.empty();
            if (row.has(run) != has_runs && !rows.records.empty()) {
                reader.fail(run, "some rows say which run they are of, and some do not",
                            "give the run of every row, or of none");
                return;
            }
            if (row.has(run)) {
                rows.runs.push_back(static_cast<int>(row.number(run)));
            }
            rows.was_filled.push_back(row.word(filled, 0) != 0);
            rows.records.push_back(record);
        },
        [](const TableRow&) {});
    const std::size_t column = time.value_or(at);
    rows.facts.stamp = column == at            ? Stamp::instant
                       : column == hour_ending ? Stamp::hour_ending
                                               : Stamp::hour_beginning;
}

}  // namespace beetwright::io
