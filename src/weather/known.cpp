#include "weather/known.hpp"

#include <algorithm>

namespace beetwright::weather {

KnownWeather known_at(const KnownWeather& known, Instant now) {
    KnownWeather then;
    then.climate = known.climate;
    if (known.observed) {
        const auto& all = *known.observed;
        const auto measured = std::max<std::int64_t>(0, (now - all.begin) / std::chrono::hours(1));
        if (measured > 0) {
            auto& part = then.observed.emplace(all);
            part.hours.resize(std::min(part.hours.size(), static_cast<std::size_t>(measured)));
            std::erase_if(part.filled, [&](auto hour) { return hour >= part.hours.size(); });
        }
    }
    // One that is just coming out starts with the next full hour.
    constexpr std::chrono::hours kJustOut{1};
    if (!known.forecast.empty() && known.forecast.front().begin <= now + kJustOut) {
        then.forecast = known.forecast;
    }
    return then;
}

}  // namespace beetwright::weather
