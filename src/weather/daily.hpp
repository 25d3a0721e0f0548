// Hours from days: for whoever has a day's least and most temperature, and its rain.
//
// What a day says is kept: least, most and mean of the air, sums of rain and sunshine; only its
// evening may fall below its least, where the next morning is colder still. How it went is drawn,
// and every hour is one that nobody measured. docs/methods/series.md.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "weather/series.hpp"

namespace beetwright::weather {

/// A day on the local clock; NaN: not measured.
struct DailyRecord {
    int line = 0;  ///< for messages
    Day day{};
    double least_K = kUnknown;
    double most_K = kUnknown;
    double mean_K = kUnknown;  ///< of the whole day, not of least and most
    double rain_mm = kUnknown;
    double wind_m_s = kUnknown;       ///< mean, at 10 m
    double dew_point_K = kUnknown;    ///< mean
    double humidity = kUnknown;       ///< mean, 0 to 1; counts where no dew point is known
    double sunshine_W_m2 = kUnknown;  ///< mean of 24 hours on the level
    double bright_s = kUnknown;       ///< sunshine's hours; count where no sunshine was measured
};

struct DayHours {
    std::vector<Record> records;  ///< stamped by the hour's beginning
    std::vector<std::string> notes;
};

/// The air is least at sunrise and most two and a half hours after solar noon, with a smooth course
/// between, bent so that the day's mean is kept; rain falls evenly over the day; sunshine follows a
/// clear sky's; wind and vapour stay as they are. Problems, all of them: days that are missing,
/// stand twice or go back; least above most; a mean outside them; more sunshine than comes in
/// outside the air.
Result<DayHours> hours_of_days(std::span<const DailyRecord> days, const SourceFacts& facts);

}  // namespace beetwright::weather
