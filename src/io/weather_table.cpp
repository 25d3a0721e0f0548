// A plain table of hours: a column for the time, whose name says what it is the time of, and a
// column for each thing measured, with its unit in the heading.
#include <array>

#include "io/decimal.hpp"
#include "io/number_column.hpp"
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
    return number_column(name, Presence::optional, kind, metric, us, least, most, words);
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

}  // namespace

double in_millimetres(double metres) {
    constexpr double kMetresToMillimetres = 1000.0;
    constexpr int kDigits = 15;
    return std::isnan(metres) ? metres : rounded_to_digits(metres * kMetresToMillimetres, kDigits);
}

std::span<const Column> weather_element_columns() {
    return std::span(kColumns).subspan(first_element);
}

void read_weather_table(std::string_view bytes, const WeatherFacts& given, WeatherRows& rows,
                        ProblemList& problems) {
    std::string replaced;
    bytes = read_weather_head(bytes, given, replaced, rows, problems);
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
            auto& rain = record.values[static_cast<std::size_t>(Element::rain)];
            rain = in_millimetres(rain);
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
