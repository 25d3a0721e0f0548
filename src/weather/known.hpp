// What a season knows of the weather: what was measured, what is forecast, what is usual.
#pragma once

#include <optional>
#include <vector>

#include "weather/series.hpp"

namespace beetwright::weather {

struct KnownWeather {
    /// Measured at or near the fields.
    std::optional<Series> observed;
    /// Runs of one forecast, each as likely as another; one run if it has but one.
    std::vector<Series> forecast;
    /// Years gone by, or a typical one.
    std::optional<Series> climate;

    [[nodiscard]] bool is_empty() const { return !observed && forecast.empty() && !climate; }
};

/// What was known at an instant: hours measured by then, and a forecast only if it had begun, by
/// its first hour. Used to judge a day gone by as it was.
KnownWeather known_at(const KnownWeather& known, Instant now);

}  // namespace beetwright::weather
