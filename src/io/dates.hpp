// Calendar days and instants in the ways spreadsheets write them. ISO 8601 is read always, any
// other way only when the column's header declares it: 04/10/2031 is a day in April or in October.
#pragma once

#include <chrono>
#include <optional>
#include <string_view>

#include "base/result.hpp"
#include "base/time.hpp"

namespace beetwright::io {

enum class DayOrder { year_month_day, day_month_year, month_day_year };

struct DayFormat {
    DayOrder order = DayOrder::year_month_day;
    char mark = '-';
    bool is_declared = false;
};

/// A day, perhaps with a time of day, at a declared offset from UTC.
struct InstantFormat {
    DayFormat day;
    std::optional<std::chrono::minutes> offset;
};

/// `dd.mm.yyyy`, `d/m/yyyy`, `mm/dd/yyyy`, `yyyy-mm-dd`: the words of a header's brackets.
std::optional<DayFormat> parse_day_format(std::string_view words);
/// A day format, `hh:mm` and an offset, each of which may be left out: `dd.mm.yyyy hh:mm +02:00`.
std::optional<InstantFormat> parse_instant_format(std::string_view words);

/// Of the years 1900 to 2199: one such as 0031 or 3021 is a slip of the pen.
bool is_of_our_time(Day day);

/// A day as declared, or in ISO 8601, of the years 1900 to 2199. The problem has no place yet.
Result<Day> read_day(std::string_view cell, const DayFormat& format);
/// An instant: ISO 8601 with an offset; or day and time (24 hours, or AM/PM) when the header
/// declares the offset; or a day alone, which means its noon. The problem has no place yet.
Result<Instant> read_instant(std::string_view cell, const InstantFormat& format);

}  // namespace beetwright::io
