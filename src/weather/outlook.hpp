// What we know now of the weather: measured up to now, then forecast, then years gone by.
//
// Each member is one way in which it may go, on the same hours as the others: what was measured is
// the same in all, what is forecast is one run of the forecast, what comes after is a stretch of
// the climate at this time of year. So whatever is worked out from a member keeps its weather in
// order, and the spread of the members is how sure the weather is. docs/methods/outlook.md.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "weather/known.hpp"

namespace beetwright::weather {

struct OutlookQuestion {
    Instant now{};
    std::chrono::days behind{30};  ///< that the ground and the crowns remember
    std::chrono::days ahead{10};
    std::size_t members = 50;
    std::uint64_t seed = 1;
};

struct Outlook {
    /// As likely as one another; all of the same hours, elements, place and clock.
    std::vector<Series> members;
    Instant now{};                   ///< the beginning of the hour that it is
    Instant known_until{};           ///< measured to here; the beginning, where nothing was
    Instant forecast_until{};        ///< the members follow the forecast to here
    std::vector<std::string> notes;  ///< what was left out, lent or supposed

    [[nodiscard]] Instant begin() const { return members.front().begin; }
    [[nodiscard]] Instant end() const {
        return members.front().begin_of(members.front().hours.size());
    }
};

/// How far a stretch of the climate is moved from its day of the year, earlier or later.
inline constexpr std::chrono::days kMostMoved{10};
/// Parts that are further from each other get a note, or are refused: weather is another there.
inline constexpr double kNear_km = 100.0;
inline constexpr double kTooFar_km = 500.0;

/// Problems: nothing is known; nothing is known of what comes after now; a forecast that begins
/// after the measured ends, where no climate bridges the gap; parts from places too far apart; a
/// question about no time.
Result<Outlook> outlook(const KnownWeather& known, const OutlookQuestion& question);

/// The great circle between two places.
double distance_km(const Place& one, const Place& other);

}  // namespace beetwright::weather
