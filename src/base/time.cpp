#include "base/time.hpp"

#include "base/number_text.hpp"

namespace beetwright {
namespace {

/// Reads digits of a fixed width from the front of the text and takes them off it.
std::optional<int> take_digits(std::string_view& text, std::size_t width) {
    if (text.size() < width) {
        return std::nullopt;
    }
    int value = 0;
    for (std::size_t i = 0; i < width; ++i) {
        if (text[i] < '0' || text[i] > '9') {
            return std::nullopt;
        }
        value = 10 * value + (text[i] - '0');
    }
    text.remove_prefix(width);
    return value;
}

bool take(std::string_view& text, char expected) {
    if (text.empty() || text.front() != expected) {
        return false;
    }
    text.remove_prefix(1);
    return true;
}

std::optional<Day> take_day(std::string_view& text) {
    const auto year = take_digits(text, 4);
    if (!year || !take(text, '-')) {
        return std::nullopt;
    }
    const auto month = take_digits(text, 2);
    if (!month || !take(text, '-')) {
        return std::nullopt;
    }
    const auto day = take_digits(text, 2);
    if (!day) {
        return std::nullopt;
    }
    return day_of(*year, *month, *day);
}

/// `hh:mm`, both in range.
std::optional<std::chrono::minutes> take_clock(std::string_view& text) {
    const auto hours = take_digits(text, 2);
    if (!hours || !take(text, ':')) {
        return std::nullopt;
    }
    const auto minutes = take_digits(text, 2);
    if (!minutes || *hours > 23 || *minutes > 59) {
        return std::nullopt;
    }
    return std::chrono::hours(*hours) + std::chrono::minutes(*minutes);
}

/// `:ss` and decimals, to the millisecond; nothing there is zero.
std::optional<std::chrono::milliseconds> take_seconds(std::string_view& text) {
    if (!take(text, ':')) {
        return std::chrono::milliseconds(0);
    }
    const auto seconds = take_digits(text, 2);
    if (!seconds || *seconds > 59) {
        return std::nullopt;
    }
    std::chrono::milliseconds sum = std::chrono::seconds(*seconds);
    if (take(text, '.')) {
        int weight = 100;
        int digits = 0;
        while (!text.empty() && text.front() >= '0' && text.front() <= '9') {
            sum += std::chrono::milliseconds(weight * (text.front() - '0'));
            weight /= 10;
            ++digits;
            text.remove_prefix(1);
        }
        if (digits == 0) {
            return std::nullopt;
        }
    }
    return sum;
}

/// `Z`, or how far local time is ahead of UTC: `+hh:mm`, `-hh:mm`.
std::optional<std::chrono::minutes> take_offset(std::string_view& text) {
    if (take(text, 'Z')) {
        return std::chrono::minutes(0);
    }
    const bool ahead = take(text, '+');
    if (!ahead && !take(text, '-')) {
        return std::nullopt;
    }
    const auto offset = take_clock(text);
    if (!offset) {
        return std::nullopt;
    }
    return ahead ? *offset : -*offset;
}

}  // namespace

std::optional<Day> day_of(int year, int month, int day) {
    const std::chrono::year_month_day date{std::chrono::year(year),
                                           std::chrono::month(static_cast<unsigned>(month)),
                                           std::chrono::day(static_cast<unsigned>(day))};
    return date.ok() ? std::optional<Day>(date) : std::nullopt;
}

std::optional<Day> parse_day(std::string_view text) {
    const auto day = take_day(text);
    return text.empty() ? day : std::nullopt;
}

std::optional<Instant> parse_instant(std::string_view text) {
    const auto day = take_day(text);
    if (!day || !take(text, 'T')) {
        return std::nullopt;
    }
    const auto clock = take_clock(text);
    if (!clock) {
        return std::nullopt;
    }
    const auto seconds = take_seconds(text);
    if (!seconds) {
        return std::nullopt;
    }
    const auto offset = take_offset(text);
    if (!offset || !text.empty()) {
        return std::nullopt;
    }
    return Instant(*day) + *clock + *seconds - *offset;
}

std::string to_text(Day day) {
    const std::chrono::year_month_day date(day);
    return padded_text(static_cast<int>(date.year()), 4) + "-" +
           padded_text(static_cast<unsigned>(date.month()), 2) + "-" +
           padded_text(static_cast<unsigned>(date.day()), 2);
}

std::string to_text(Instant instant) {
    const Day day = std::chrono::floor<std::chrono::days>(instant);
    const std::chrono::hh_mm_ss clock(instant - day);
    return to_text(day) + "T" + padded_text(clock.hours().count(), 2) + ":" +
           padded_text(clock.minutes().count(), 2) + ":" + padded_text(clock.seconds().count(), 2) +
           "." + padded_text(clock.subseconds().count(), 3) + "Z";
}

}  // namespace beetwright
