// A plain table of days: a column `day`, the least and the most temperature, and what else was
// noted, with units in the headings. Its hours are drawn: weather/daily.hpp.
#include <array>

#include "io/number_column.hpp"
#include "io/table.hpp"
#include "io/weather_parts.hpp"
#include "weather/daily.hpp"

namespace beetwright::io {
namespace {

enum DayColumn : std::size_t {
    day,
    least,
    most,
    mean,
    rain,
    wind,
    dew_point,
    humidity,
    global,
    sunshine
};

constexpr Column measured(std::string_view name, UnitKind kind, std::string_view metric,
                          std::string_view us, double lowest, double highest,
                          std::string_view words, Presence presence = Presence::optional) {
    return number_column(name, presence, kind, metric, us, lowest, highest, words);
}

// Bounds in SI.
constexpr std::array kColumns{
    Column{.name = "day",
           .kind = CellKind::day,
           .presence = Presence::required,
           .words = "of the calendar, on the local clock"},
    measured("least", UnitKind::temperature, "°C", "°F", 183.15, 363.15,
             "temperature of the air in the day", Presence::required),
    measured("most", UnitKind::temperature, "°C", "°F", 183.15, 363.15,
             "temperature of the air in the day", Presence::required),
    measured("mean", UnitKind::temperature, "°C", "°F", 183.15, 363.15,
             "of the day's 24 hours, not of least and most"),
    measured("rain", UnitKind::length, "mm", "in", 0.0, 2.0, "in the day"),
    measured("wind", UnitKind::speed, "m/s", "mph", 0.0, 100.0, "mean, at 10 m"),
    measured("dew_point", UnitKind::temperature, "°C", "°F", 173.15, 323.15, "mean"),
    measured("humidity", UnitKind::fraction, "%", "%", 0.0, 1.1, "mean, relative"),
    measured("global", UnitKind::irradiance, "MJ/m2/d", "W/m2", 0.0, 600.0,
             "sunshine on the level, the mean of 24 hours"),
    measured("sunshine", UnitKind::duration, "h", "h", 0.0, 86'400.0, "hours of bright sun")};
static_assert(kColumns.size() == sunshine + 1);

}  // namespace

void read_weather_days(std::string_view bytes, const WeatherFacts& given, WeatherRows& rows,
                       ProblemList& problems) {
    std::string replaced;
    bytes = read_weather_head(bytes, given, replaced, rows, problems);
    const Table table{.file = rows.facts.file,
                      .presence = Presence::required,
                      .words = "The weather, day by day.",
                      .columns = kColumns};
    TableReader reader(table, bytes, "", problems);
    if (!reader.open()) {
        return;
    }
    std::vector<weather::DailyRecord> days;
    reader.read(
        [&](const TableRow& row) {
            days.push_back({.line = row.line(),
                            .day = *row.day(day),
                            .least_K = row.number(least),
                            .most_K = row.number(most),
                            .mean_K = row.number(mean),
                            .rain_mm = in_millimetres(row.number(rain)),
                            .wind_m_s = row.number(wind),
                            .dew_point_K = row.number(dew_point),
                            .humidity = row.number(humidity),
                            .sunshine_W_m2 = row.number(global),
                            .bright_s = row.number(sunshine)});
        },
        [](const TableRow&) {});
    rows.facts.stamp = weather::Stamp::hour_beginning;
    if (!problems.empty()) {
        return;
    }
    auto drawn = weather::hours_of_days(days, rows.facts);
    if (!drawn) {
        problems.add(drawn.problems());
        return;
    }
    rows.records = std::move(drawn->records);
    rows.was_filled.assign(rows.records.size(), true);
    rows.notes = std::move(drawn->notes);
}

}  // namespace beetwright::io
