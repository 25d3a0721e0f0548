// Weather hour by hour, without gaps.
//
// An hour is named by its beginning and holds means over it; rain is its sum. Sources differ: a
// weather year stamps an hour by its end, a station often notes instants. Which it is must be said,
// for an hour's error moves the sun by fifteen degrees. docs/methods/series.md.
#pragma once

#include <array>
#include <cstdint>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "base/time.hpp"
#include "weather/place.hpp"

namespace beetwright::weather {

/// What is measured.
enum class Element : std::uint8_t {
    air,        ///< temperature [K]
    dew_point,  ///< [K]
    humidity,   ///< relative, 0 to 1
    pressure,   ///< [Pa]
    wind,       ///< [m/s], at 10 m
    rain,       ///< [mm] in the hour
    global,     ///< sunshine on the level [W/m2]
    direct,     ///< square to the rays [W/m2]
    diffuse,    ///< from the sky on the level [W/m2]
    sky,        ///< infra-red from the sky [W/m2]
    cloud,      ///< share of the sky, 0 to 1
    snow,       ///< depth on the ground [m]
};
inline constexpr std::size_t kElements = 12;

/// "temperature of the air", for sentences.
std::string_view words_of(Element element);

inline constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();

/// An hour's values by element; NaN where an element is not in the series at all.
using Hour = std::array<double, kElements>;

inline Hour unknown_hour() {
    Hour hour;
    hour.fill(kUnknown);
    return hour;
}

struct Series {
    std::string name;
    Place place;
    std::chrono::minutes clock{0};  ///< local standard time is ahead of UTC by this
    Instant begin{};                ///< of the first hour
    std::vector<Hour> hours;
    /// The hours in which anything was filled in, in order.
    std::vector<std::uint32_t> filled;

    [[nodiscard]] double at(std::size_t hour, Element element) const {
        return hours[hour][static_cast<std::size_t>(element)];
    }
    [[nodiscard]] bool has(Element element) const {
        return !hours.empty() && at(0, element) == at(0, element);
    }
    [[nodiscard]] Instant begin_of(std::size_t hour) const {
        return begin + std::chrono::hours(hour);
    }
    /// The calendar day on the local clock.
    [[nodiscard]] Day day_of(std::size_t hour) const {
        return std::chrono::floor<std::chrono::days>(begin_of(hour) + clock);
    }
};

/// "2031-10-04 09:00" on a clock that is ahead of UTC, for sentences.
std::string local_text(Instant at, std::chrono::minutes clock);

/// How a source stamps its rows.
enum class Stamp { hour_beginning, hour_ending, instant };

/// One row as a source has it; `line` for messages.
struct Record {
    int line = 0;
    Instant at{};
    Hour values = unknown_hour();
    /// A typical year is put together from months of several years: nothing is filled across a
    /// join.
    bool is_join = false;
};

/// What a source says of itself.
struct SourceFacts {
    std::string file;
    std::string name;
    Place place;
    std::chrono::minutes clock{0};
    Stamp stamp = Stamp::hour_ending;
};

/// Gaps up to this long are filled between their ends and marked; longer ones are refused.
inline constexpr unsigned kLongestFilled_h = 3;

/// A series from records. Problems, all of them: no rows; rows that go back in time, or stand twice
/// (as when clocks are set back); gaps longer than three hours, with their dates; an element that
/// is there in part; temperatures that look as if they were °F; a year whose winter is where the
/// latitude has summer.
Result<Series> series_from(const std::vector<Record>& records, const SourceFacts& facts);

}  // namespace beetwright::weather
