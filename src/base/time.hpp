// Instants, calendar days and days of the campaign.
//
// An Instant is UTC to the millisecond. A Day is a calendar day where the season is; time zones are
// known only to readers and screens. Nothing here reads a clock: the caller brings the time.
#pragma once

#include <chrono>
#include <compare>
#include <optional>
#include <string>
#include <string_view>

namespace beetwright {

using Instant = std::chrono::sys_time<std::chrono::milliseconds>;
using Day = std::chrono::sys_days;

/// A whole number of days since the campaign's first day, which is day 0.
class CampaignDay {
 public:
    constexpr CampaignDay() = default;
    constexpr explicit CampaignDay(int number) : number_(number) {}
    constexpr CampaignDay(Day first_day, Day day)
        : number_(static_cast<int>((day - first_day).count())) {}

    [[nodiscard]] constexpr int number() const { return number_; }
    [[nodiscard]] constexpr Day on(Day first_day) const {
        return first_day + std::chrono::days(number_);
    }
    friend constexpr int operator-(CampaignDay a, CampaignDay b) { return a.number_ - b.number_; }
    friend constexpr CampaignDay operator+(CampaignDay a, int days) {
        return CampaignDay(a.number_ + days);
    }
    friend constexpr auto operator<=>(CampaignDay, CampaignDay) = default;

 private:
    int number_ = 0;
};

/// The day of this date; nothing where the calendar has none such.
std::optional<Day> day_of(int year, int month, int day);
/// Reads an ISO 8601 calendar day, `2031-10-04`; nothing else. Days that do not exist are refused.
std::optional<Day> parse_day(std::string_view text);
/// Reads an ISO 8601 instant, `2031-10-04T07:45:00Z` or with an offset `+02:00`; seconds and their
/// decimals may be left out. Without an offset it is not an instant, and is refused.
std::optional<Instant> parse_instant(std::string_view text);

/// `2031-10-04`.
std::string to_text(Day day);
/// `2031-10-04T07:45:00.000Z`; reads back as the same instant.
std::string to_text(Instant instant);

}  // namespace beetwright
