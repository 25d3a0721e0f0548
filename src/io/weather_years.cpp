// EPW: eight lines about the place, then a row for each hour with 35 cells. TMY3: a line about the
// place, a line of headings, then the rows. Both stamp an hour by its end, 1 to 24, on local
// standard time, and may be put together from months of several years.
#include <array>
#include <cmath>
#include <functional>

#include "base/trimmed.hpp"
#include "io/csv.hpp"
#include "io/dates.hpp"
#include "io/decimal.hpp"
#include "io/weather_parts.hpp"

namespace beetwright::io {
namespace {

using weather::Element;
using weather::Record;

/// A typical year has no year of its own; this one is not a leap year, as typical years are not.
constexpr std::chrono::year kNoYear{2001};
constexpr double kZeroCelsius_K = 273.15;

std::optional<double> number(std::string_view cell) {
    cell = trimmed(cell);
    if (!cell.empty() && cell.front() == '+') {
        cell.remove_prefix(1);
    }
    const auto read = leading_decimal(cell);
    return read && read->length == cell.size() ? std::optional(read->value) : std::nullopt;
}

/// A column that we take, and what its numbers mean.
struct YearColumn {
    Element element;
    std::size_t place;         ///< among the cells
    std::string_view heading;  ///< in TMY3
    double factor = 1.0;
    double offset = 0.0;
    double missing = 1e300;  ///< from this on, nobody measured
    double least = -1e300;   ///< as written
    double most = 1e300;
};

/// An hour as a row writes it; nothing where that is no whole number.
struct HourWritten {
    std::optional<int> year = std::nullopt;
    std::optional<int> month = std::nullopt;
    std::optional<int> day = std::nullopt;
    std::optional<int> hour = std::nullopt;
};

class YearRows {
 public:
    YearRows(WeatherRows& rows, ProblemList& problems) : rows_(rows), problems_(problems) {}

    void fail(int line, std::string_view field, std::string what, std::string fix) {
        problems_.add({.file = rows_.facts.file, .line = line, .field = std::string(field)},
                      std::move(what), std::move(fix));
    }

    /// Where and when; each cell must be a number.
    bool place(const CsvRow& row, std::size_t latitude, std::size_t longitude, std::size_t clock,
               std::size_t elevation) {
        const auto get = [&](std::size_t at, std::string_view name, double least,
                             double most) -> std::optional<double> {
            const auto value =
                at < row.cells.size() ? number(row.cells[at]) : std::optional<double>();
            if (!value || *value < least || *value > most) {
                fail(row.line, name,
                     "'" + std::string(at < row.cells.size() ? trimmed(row.cells[at]) : "") +
                         "' is no " + std::string(name),
                     "write a number from " + std::to_string(static_cast<int>(least)) + " to " +
                         std::to_string(static_cast<int>(most)));
                return std::nullopt;
            }
            return value;
        };
        const auto north = get(latitude, "latitude", -90, 90);
        const auto east = get(longitude, "longitude", -180, 180);
        const auto hours = get(clock, "time zone", -12, 14);
        const auto height = get(elevation, "elevation", -500, 9000);
        if (!north || !east || !hours || !height) {
            return false;
        }
        rows_.facts.place = weather::Place::degrees(*north, *east, *height);
        rows_.facts.clock = std::chrono::minutes(std::lround(60.0 * *hours));
        return true;
    }

    /// Adds an hour that ends at `hour` (1 to 24) of a day; `as_here`: how the format writes one.
    void add(const CsvRow& row, const HourWritten& at, std::span<const YearColumn> columns,
             const char* as_here) {
        using namespace std::chrono;
        if (!at.year || !at.month || !at.day || !at.hour || *at.month < 1 || *at.day < 1) {
            fail(row.line, "date", "this is no hour of a year", as_here);
            return;
        }
        const int hour = *at.hour;
        const year_month_day date{std::chrono::year{*at.year},
                                  std::chrono::month{static_cast<unsigned>(*at.month)},
                                  std::chrono::day{static_cast<unsigned>(*at.day)}};
        if (!date.ok() || hour < 1 || hour > 24) {
            fail(row.line, "date", "this is no hour of a year",
                 "write a year, a month, a day and an hour from 1 to 24");
            return;
        }
        // With a day to spare for clocks: its hours are told in UTC once they are kept.
        if (!is_of_our_time(sys_days(date) - days(1)) ||
            !is_of_our_time(sys_days(date) + days(1))) {
            fail(row.line, "date", "the year " + std::to_string(*at.year) + " is not of our time",
                 "write the year in full, from 1900 to 2199");
            return;
        }
        Record record;
        record.line = row.line;
        for (const auto& column : columns) {
            if (column.place >= row.cells.size()) {
                continue;
            }
            const auto value = number(row.cells[column.place]);
            if (!value) {
                fail(row.line, words_of(column.element),
                     "'" + std::string(trimmed(row.cells[column.place])) + "' is not a number",
                     "write a number, or the code of the format for a missing one");
                continue;
            }
            if (*value >= column.missing || *value <= -9900.0) {
                continue;
            }
            if (*value < column.least || *value > column.most) {
                fail(row.line, words_of(column.element),
                     std::string(trimmed(row.cells[column.place])) + " is not possible",
                     "is this column what its place says? The formats leave no choice");
                continue;
            }
            record.values[static_cast<std::size_t>(column.element)] =
                column.factor * *value + column.offset;
        }
        // The year is settled when all are known.
        dates_.push_back({date, hour});
        rows_.records.push_back(record);
    }

    /// Gives each record its instant. Several years make a typical year, which is of no year.
    void date_all() {
        using namespace std::chrono;
        for (std::size_t k = 1; k < dates_.size(); ++k) {
            const auto& before = dates_[k - 1].date;
            const auto& now = dates_[k].date;
            // A year that follows the last one's December goes on; any other change is a join.
            const bool goes_on = now.year() == before.year() ||
                                 (now.year() == before.year() + years(1) &&
                                  before.month() == December && now.month() == January);
            if (!goes_on) {
                rows_.is_typical_year = true;
                rows_.records[k].is_join = true;
            }
        }
        for (std::size_t k = 0; k < dates_.size(); ++k) {
            auto date = dates_[k].date;
            if (rows_.is_typical_year) {
                date = kNoYear / date.month() / date.day();
                if (!date.ok()) {
                    fail(rows_.records[k].line, "date", "a typical year has no 29 February",
                         "leave the day out, or give the hours of one year");
                    continue;
                }
            }
            rows_.records[k].at = sys_days(date) + hours(dates_[k].hour) - rows_.facts.clock;
        }
    }

 private:
    struct Date {
        std::chrono::year_month_day date;
        int hour;
    };
    WeatherRows& rows_;
    ProblemList& problems_;
    std::vector<Date> dates_;
};

// EPW's columns by their place, with its codes for what is missing; humidity in %, cloud in tenths,
// snow in cm, rain as a depth in mm.
constexpr std::array kEpwColumns{
    YearColumn{Element::air, 6, "", 1.0, kZeroCelsius_K, 99.9, -90.0, 99.9},
    YearColumn{Element::dew_point, 7, "", 1.0, kZeroCelsius_K, 99.9, -90.0, 99.9},
    YearColumn{Element::humidity, 8, "", 0.01, 0.0, 999.0, 0.0, 110.0},
    YearColumn{Element::pressure, 9, "", 1.0, 0.0, 999'999.0, 31'000.0, 120'000.0},
    YearColumn{Element::sky, 12, "", 1.0, 0.0, 9999.0, 0.0, 1000.0},
    YearColumn{Element::global, 13, "", 1.0, 0.0, 9999.0, 0.0, 1600.0},
    YearColumn{Element::direct, 14, "", 1.0, 0.0, 9999.0, 0.0, 1600.0},
    YearColumn{Element::diffuse, 15, "", 1.0, 0.0, 9999.0, 0.0, 1600.0},
    YearColumn{Element::wind, 21, "", 1.0, 0.0, 999.0, 0.0, 100.0},
    YearColumn{Element::cloud, 22, "", 0.1, 0.0, 99.0, 0.0, 10.0},
    YearColumn{Element::snow, 30, "", 0.01, 0.0, 999.0, 0.0, 998.0},
    YearColumn{Element::rain, 33, "", 1.0, 0.0, 999.0, 0.0, 500.0}};

// TMY3's by their headings.
constexpr std::array kTmy3Columns{
    YearColumn{Element::global, 0, "GHI (W/m^2)", 1.0, 0.0, 9999.0, 0.0, 1600.0},
    YearColumn{Element::direct, 0, "DNI (W/m^2)", 1.0, 0.0, 9999.0, 0.0, 1600.0},
    YearColumn{Element::diffuse, 0, "DHI (W/m^2)", 1.0, 0.0, 9999.0, 0.0, 1600.0},
    YearColumn{Element::cloud, 0, "TotCld (tenths)", 0.1, 0.0, 99.0, 0.0, 10.0},
    YearColumn{Element::air, 0, "Dry-bulb (C)", 1.0, kZeroCelsius_K, 99.9, -90.0, 99.9},
    YearColumn{Element::dew_point, 0, "Dew-point (C)", 1.0, kZeroCelsius_K, 99.9, -90.0, 99.9},
    YearColumn{Element::humidity, 0, "RHum (%)", 0.01, 0.0, 999.0, 0.0, 110.0},
    YearColumn{Element::pressure, 0, "Pressure (mbar)", 100.0, 0.0, 9999.0, 310.0, 1200.0},
    YearColumn{Element::wind, 0, "Wspd (m/s)", 1.0, 0.0, 999.0, 0.0, 100.0},
    YearColumn{Element::rain, 0, "Lprecip depth (mm)", 1.0, 0.0, 999.0, 0.0, 500.0}};

std::optional<int> whole(std::string_view cell) {
    const auto value = number(cell);
    return value && *value == std::floor(*value) && std::abs(*value) < 1e6
               ? std::optional(static_cast<int>(*value))
               : std::nullopt;
}

}  // namespace

void read_epw(std::string_view bytes, WeatherRows& rows, ProblemList& problems) {
    auto csv = CsvReader::open(bytes, rows.facts.file);
    if (!csv) {
        problems.add(csv.problems());
        return;
    }
    YearRows years(rows, problems);
    const CsvRow& place = csv->header();
    if (place.cells.size() < 10) {
        years.fail(place.line, "LOCATION", "this line has not its ten cells",
                   "LOCATION,city,region,country,source,station,latitude,longitude,time zone,"
                   "elevation");
        return;
    }
    rows.facts.name = std::string(trimmed(place.cells[1]));
    if (!years.place(place, 6, 7, 8, 9)) {
        return;
    }
    CsvRow row;
    bool has_begun = false;
    while (csv->next(row)) {
        const auto year = whole(row.cells.front());
        // The seven lines after the first begin with their names in capitals.
        if (!has_begun && !year) {
            continue;
        }
        has_begun = true;
        constexpr std::size_t kLeastCells = 22;
        if (row.cells.size() < kLeastCells) {
            years.fail(row.line, "",
                       std::to_string(row.cells.size()) + " cells where an hour has 35",
                       "was the file cut off in copying?");
            continue;
        }
        years.add(row, {year, whole(row.cells[1]), whole(row.cells[2]), whole(row.cells[3])},
                  kEpwColumns, "write a year, a month, a day and an hour from 1 to 24");
    }
    if (csv->problem()) {
        problems.add(*csv->problem());
    }
    years.date_all();
}

void read_tmy3(std::string_view bytes, WeatherRows& rows, ProblemList& problems) {
    auto csv = CsvReader::open(bytes, rows.facts.file);
    if (!csv) {
        problems.add(csv.problems());
        return;
    }
    YearRows years(rows, problems);
    const CsvRow& place = csv->header();
    if (place.cells.size() < 7) {
        years.fail(place.line, "", "the first line has not its seven cells",
                   "station,name,state,time zone,latitude,longitude,elevation");
        return;
    }
    rows.facts.name = std::string(trimmed(place.cells[1]));
    if (!years.place(place, 4, 5, 3, 6)) {
        return;
    }
    CsvRow row;
    if (!csv->next(row)) {
        years.fail(2, "", "there is no line of headings", "was the file cut off in copying?");
        return;
    }
    auto columns = kTmy3Columns;
    for (auto& column : columns) {
        column.place = row.cells.size();
        for (std::size_t k = 0; k < row.cells.size(); ++k) {
            if (trimmed(row.cells[k]) == column.heading) {
                column.place = k;
            }
        }
    }
    while (csv->next(row)) {
        // 01/31/1988,01:00 to 24:00
        const auto date = trimmed(row.cells.front());
        const auto time = row.cells.size() > 1 ? trimmed(row.cells[1]) : std::string_view();
        HourWritten at;
        if (date.size() == 10 && time.size() >= 4) {
            at = {whole(date.substr(6, 4)), whole(date.substr(0, 2)), whole(date.substr(3, 2)),
                  whole(time.substr(0, time.find(':')))};
        }
        years.add(row, at, columns, "write it as 01/31/1988,24:00");
    }
    if (csv->problem()) {
        problems.add(*csv->problem());
    }
    years.date_all();
}

}  // namespace beetwright::io
