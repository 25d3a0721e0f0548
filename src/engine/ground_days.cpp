#include "engine/ground_days.hpp"

#include <algorithm>

#include "ledger/soil_rules.hpp"
#include "weather/known.hpp"

namespace beetwright::engine {

GroundDays::GroundDays(const ledger::Season& season, const Catalogue& catalogue,
                       std::span<const weather::SunPosition> suns)
    : season_(&season),
      soil_(weather::soil_constants([&](ConstantId id) { return catalogue.value(id); })) {
    if (season.weather != nullptr && season.weather->observed) {
        sky_ = weather::sky_hours(*season.weather->observed, suns);
    }
}

std::optional<GroundDay> GroundDays::by(const ledger::Field& field, std::optional<Day> day) {
    if (sky_.empty()) {
        return std::nullopt;
    }
    const auto soil_class = ledger::soil_class_of(*season_, field.soil);
    auto& days = days_[soil_class];
    if (days.empty()) {
        days =
            weather::topsoil_days(*season_->weather->observed, sky_, {.soil = soil_class}, soil_);
    }
    auto after = days.end();
    if (day) {
        after = std::ranges::upper_bound(days, *day, {}, &weather::TopsoilDay::day);
    }
    if (after == days.begin()) {
        return std::nullopt;
    }
    const auto& last = *std::prev(after);
    const auto limits = weather::consistency_limits(weather::soil_of(soil_class), soil_);
    return GroundDay{last.day, weather::consistency(last.moisture, limits)};
}

}  // namespace beetwright::engine
