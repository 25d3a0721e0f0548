#include "engine/as_of.hpp"

#include <algorithm>

#include "ledger/observation_kinds.hpp"

namespace beetwright::engine {

Instant as_of(const ledger::Season& season) {
    auto last = Instant(season.first_day);
    ledger::for_each_kind(season, [&](const auto& all) {
        for (const auto& one : all) {
            last = std::max(last, one.at);
        }
    });
    if (season.weather != nullptr && season.weather->observed) {
        const auto& observed = *season.weather->observed;
        last = std::max(last, observed.begin_of(observed.hours.size()));
    }
    return last;
}

ledger::Season known_season(ledger::Season season, Instant now) {
    const Day today = std::chrono::floor<std::chrono::days>(now + clock_of(season));
    ledger::for_each_kind(season, [&](auto& all) {
        std::erase_if(all, [&](const auto& one) { return one.at > now; });
    });
    for (auto& field : season.fields) {
        if (field.lifted && *field.lifted > today) {
            field.lifted.reset();
        }
    }
    if (season.weather != nullptr) {
        season.weather =
            std::make_shared<const weather::KnownWeather>(weather::known_at(*season.weather, now));
    }
    return season;
}

std::chrono::minutes clock_of(const ledger::Season& season) {
    if (season.weather != nullptr) {
        const auto& weather = *season.weather;
        if (weather.observed) {
            return weather.observed->clock;
        }
        if (!weather.forecast.empty()) {
            return weather.forecast.front().clock;
        }
        if (weather.climate) {
            return weather.climate->clock;
        }
    }
    return std::chrono::minutes(0);
}

}  // namespace beetwright::engine
