#include "io/dates.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <string>

#include "base/lower_case.hpp"
#include "base/trimmed.hpp"

namespace beetwright::io {
namespace {

using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

std::optional<int> whole(std::string_view digits, std::size_t least, std::size_t most) {
    int value = 0;
    if (digits.size() < least || digits.size() > most ||
        !std::ranges::all_of(digits, [](char c) { return c >= '0' && c <= '9'; }) ||
        std::from_chars(digits.data(), digits.data() + digits.size(), value).ec != std::errc{}) {
        return std::nullopt;
    }
    return value;
}

/// Three parts between two like marks; nothing if there are not three.
std::optional<std::array<std::string_view, 3>> three_parts(std::string_view text, char mark) {
    const std::size_t first = text.find(mark);
    const std::size_t second = first == std::string_view::npos ? first : text.find(mark, first + 1);
    if (second == std::string_view::npos || text.find(mark, second + 1) != std::string_view::npos) {
        return std::nullopt;
    }
    return std::array{text.substr(0, first), text.substr(first + 1, second - first - 1),
                      text.substr(second + 1)};
}

std::optional<Day> day_of_parts(std::string_view text, char mark, DayOrder order) {
    const auto parts = three_parts(text, mark);
    if (!parts) {
        return std::nullopt;
    }
    const auto& [a, b, c] = *parts;
    const bool year_first = order == DayOrder::year_month_day;
    const bool month_first = order == DayOrder::month_day_year;
    const auto year = whole(year_first ? a : c, 4, 4);
    const auto month = whole(year_first || !month_first ? b : a, 1, 2);
    const auto day = whole(year_first ? c : (month_first ? b : a), 1, 2);
    if (!year || !month || !day) {
        return std::nullopt;
    }
    return day_of(*year, *month, *day);
}

std::string_view words_of(DayOrder order, char mark) {
    switch (order) {
        case DayOrder::year_month_day: return mark == '-' ? "yyyy-mm-dd" : "yyyy/mm/dd";
        case DayOrder::day_month_year: return mark == '.' ? "dd.mm.yyyy" : "dd/mm/yyyy";
        case DayOrder::month_day_year: return mark == '.' ? "mm.dd.yyyy" : "mm/dd/yyyy";
    }
    return "";
}

Problem not_a_day(std::string_view cell, const DayFormat& format) {
    const std::string shown = "'" + std::string(cell.substr(0, 40)) + "'";
    if (format.is_declared) {
        return {ProblemKind::input,
                {},
                shown + " is not a day as the header declares it",
                "write it as " + std::string(words_of(format.order, format.mark)) +
                    ", or as 2031-10-04"};
    }
    const bool is_other_way = cell.find_first_of("./") != std::string_view::npos;
    for (const char mark : {'.', '/', '-'}) {
        const auto day_first = day_of_parts(cell, mark, DayOrder::day_month_year);
        const auto month_first = day_of_parts(cell, mark, DayOrder::month_day_year);
        if (day_first && month_first && *day_first != *month_first) {
            return {ProblemKind::input,
                    {},
                    shown + " may be " + to_text(*day_first) + " or " + to_text(*month_first),
                    "write it as " + to_text(*day_first) +
                        ", or declare the order in the header: "
                        "[dd.mm.yyyy] or [mm/dd/yyyy]"};
        }
    }
    return {ProblemKind::input,
            {},
            shown + " is not a day",
            is_other_way ? "write it as 2031-10-04, or declare its order in the header: "
                           "[dd.mm.yyyy] or [mm/dd/yyyy]"
                         : "write it as 2031-10-04"};
}

std::string_view without_spaces(std::string_view text) {
    return trimmed(text, " ");
}

Problem long_ago_or_far_off(std::string_view cell) {
    return {ProblemKind::input,
            {},
            "'" + std::string(cell.substr(0, 40)) + "' is not of our time",
            "write the year in full, from 1900 to 2199"};
}

/// `7:45`, `19:45:30`, `7:45 pm`.
std::optional<seconds> time_of_day(std::string_view text) {
    std::string words = lower_case(without_spaces(text));
    int half_day = 0;  // 1: am, 2: pm
    if (words.ends_with("am") || words.ends_with("pm")) {
        half_day = words.ends_with("am") ? 1 : 2;
        words = without_spaces(std::string_view(words).substr(0, words.size() - 2));
    }
    const std::size_t colon = words.find(':');
    const std::size_t second_colon = std::min(words.find(':', colon + 1), words.size());
    if (colon == std::string::npos) {
        return std::nullopt;
    }
    const std::string_view view(words);
    auto hour = whole(view.substr(0, colon), 1, 2);
    const auto minute = whole(view.substr(colon + 1, second_colon - colon - 1), 2, 2);
    const auto second = second_colon < view.size() ? whole(view.substr(second_colon + 1), 2, 2) : 0;
    if (!hour || !minute || !second || *minute > 59 || *second > 59) {
        return std::nullopt;
    }
    if (half_day != 0) {
        if (*hour < 1 || *hour > 12) {
            return std::nullopt;
        }
        hour = *hour % 12 + (half_day == 2 ? 12 : 0);
    }
    if (*hour > 23) {
        return std::nullopt;
    }
    return hours(*hour) + minutes(*minute) + seconds(*second);
}

std::optional<minutes> parse_offset(std::string_view words) {
    std::string text = lower_case(words);
    if (text.starts_with("utc")) {
        text.erase(0, 3);
    }
    if (text.empty() || text == "z") {
        return minutes(0);
    }
    const std::string_view view(text);
    if (view.size() != 6 || (view[0] != '+' && view[0] != '-') || view[3] != ':') {
        return std::nullopt;
    }
    const auto hour = whole(view.substr(1, 2), 2, 2);
    const auto minute = whole(view.substr(4, 2), 2, 2);
    if (!hour || !minute || *hour > 14 || *minute > 59) {
        return std::nullopt;
    }
    const auto size = hours(*hour) + minutes(*minute);
    return view[0] == '-' ? -size : size;
}

}  // namespace

bool is_of_our_time(Day day) {
    using std::chrono::year;
    const auto in = std::chrono::year_month_day(day).year();
    return in >= year(1900) && in <= year(2199);
}

std::optional<DayFormat> parse_day_format(std::string_view words) {
    const std::string text = lower_case(words);
    for (const char mark : {'.', '/', '-'}) {
        const auto parts = three_parts(text, mark);
        if (!parts) {
            continue;
        }
        const auto& [a, b, c] = *parts;
        const auto is = [](std::string_view part, char letter) {
            return (part.size() == 1 || part.size() == 2) &&
                   part.find_first_not_of(letter) == std::string_view::npos;
        };
        if (a == "yyyy" && is(b, 'm') && is(c, 'd')) {
            return DayFormat{DayOrder::year_month_day, mark, true};
        }
        if (is(a, 'd') && is(b, 'm') && c == "yyyy") {
            return DayFormat{DayOrder::day_month_year, mark, true};
        }
        if (is(a, 'm') && is(b, 'd') && c == "yyyy") {
            return DayFormat{DayOrder::month_day_year, mark, true};
        }
    }
    return std::nullopt;
}

std::optional<InstantFormat> parse_instant_format(std::string_view words) {
    InstantFormat format;
    std::string_view rest = without_spaces(words);
    if (rest.empty()) {
        return std::nullopt;
    }
    while (!rest.empty()) {
        const std::size_t end = std::min(rest.find(' '), rest.size());
        const std::string_view word = rest.substr(0, end);
        const std::string plain = lower_case(word);
        if (const auto day = parse_day_format(word)) {
            format.day = *day;
        } else if (const auto offset = parse_offset(word)) {
            format.offset = offset;
        } else if (plain != "hh:mm" && plain != "h:mm" && plain != "hh:mm:ss" && plain != "am/pm") {
            return std::nullopt;
        }
        rest = without_spaces(rest.substr(end));
    }
    return format;
}

Result<Day> read_day(std::string_view cell, const DayFormat& format) {
    auto day = parse_day(cell);
    if (!day && format.is_declared) {
        day = day_of_parts(cell, format.mark, format.order);
    }
    if (!day) {
        return not_a_day(cell, format);
    }
    if (!is_of_our_time(*day)) {
        return long_ago_or_far_off(cell);
    }
    return *day;
}

Result<Instant> read_instant(std::string_view cell, const InstantFormat& format) {
    if (const auto iso = parse_instant(cell)) {
        if (!is_of_our_time(std::chrono::floor<std::chrono::days>(*iso))) {
            return long_ago_or_far_off(cell);
        }
        return *iso;
    }
    const std::size_t gap = std::min(cell.find_first_of(" T"), cell.size());
    const auto day = read_day(cell.substr(0, gap), format.day);
    if (!day) {
        return day.problems();
    }
    const auto offset = format.offset.value_or(minutes(0));
    if (gap == cell.size()) {
        return Instant(*day + hours(12) - offset);
    }
    const auto time = time_of_day(cell.substr(gap + 1));
    if (!time) {
        return Problem{ProblemKind::input,
                       {},
                       "'" + std::string(cell.substr(0, 40)) + "' has no time of day that is read",
                       "write it as 2031-10-04T07:45Z or 2031-10-04T07:45+02:00"};
    }
    if (!format.offset) {
        return Problem{ProblemKind::input,
                       {},
                       "'" + std::string(cell.substr(0, 40)) + "' does not say in which time zone",
                       "end it with Z or +02:00, or declare the zone in the header: at [+02:00]"};
    }
    return Instant(*day + *time - offset);
}

}  // namespace beetwright::io
