#include "demo_season/weather.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/contract.hpp"
#include "base/random.hpp"

namespace beetwright::demo {
namespace {

constexpr int kDaysBefore = 21;
constexpr int kDaysAfter = 14;
constexpr int kJanuaryColdBegins = 113;  // 11 January, when only the piles are left to feel it
constexpr int kJanuaryColdEnds = 122;

// An inland oceanic year: 9.2 °C on average, warmest late in July (day 56 before the campaign).
double smooth_mean_celsius(int day) {
    return 9.2 + 8.0 * std::cos(2.0 * std::numbers::pi * (day + 56) / 365.0);
}

/// How far into a spell a day lies: 0 outside, rising to 1 over three days and falling again.
double within(int day, int begins, int ends) {
    const int depth = std::min(day - begins, ends - day) + 1;
    return std::clamp(depth / 3.0, 0.0, 1.0);
}

struct RainHabit {
    double chance;
    double mean_mm;
};

RainHabit rain_habit(int day) {
    if (day < kRainBegins.number()) {
        return {.chance = 0.06, .mean_mm = 2.0};
    }
    if (day < kRainEases.number()) {
        return {.chance = 0.6, .mean_mm = 5.0};
    }
    return {.chance = 0.35, .mean_mm = 3.0};
}

constexpr double kTopsoilStore_mm = 45.0;
constexpr double kWaterAtStart = 0.35;
constexpr double kDrainsAbove = 0.75;  // of the store: what drains held no longer than days
constexpr double kDrainedPerDay = 0.35;
constexpr double kFirstRain_mm = 26.0;  // the day the dry spell breaks

double evaporation_mm(double mean_celsius) {
    return std::max(0.3, 0.12 * mean_celsius);
}

}  // namespace

Weather::Weather(std::uint64_t seed) {
    RandomStream air(seed, "demo air");
    RandomStream rain(seed, "demo rain");
    constexpr double kKept = 0.75;  // of yesterday's departure from the smooth year
    double departure = 0.0;
    double water = kWaterAtStart;
    for (int day = -kDaysBefore; day <= kLastSlicing.number() + kDaysAfter; ++day) {
        const double frost = within(day, kFrostBegins.number(), kFrostEnds.number());
        const double january = within(day, kJanuaryColdBegins, kJanuaryColdEnds);
        const double cold = std::max(frost, january);
        departure = std::clamp(kKept * departure + 1.5 * air.normal(), -3.5, 4.0);
        WeatherDay one;
        // In a cold spell the spell rules, not the chance: the story's frost always comes.
        one.mean_celsius =
            smooth_mean_celsius(day) + (1.0 - 0.7 * cold) * departure - 9.0 * frost - 6.5 * january;
        one.low_celsius = one.mean_celsius - 3.5 - 0.8 * std::abs(air.normal());
        const RainHabit habit = rain_habit(day);
        const double fallen_mm = habit.mean_mm * rain.gamma(1.5) / 1.5;
        const bool rains = rain.chance(habit.chance) && cold < 0.5;
        one.rain_mm = rains ? fallen_mm : 0.0;
        if (day == kRainBegins.number()) {
            one.rain_mm = kFirstRain_mm;
        }
        water += (one.rain_mm - evaporation_mm(one.mean_celsius)) / kTopsoilStore_mm;
        water -= kDrainedPerDay * std::max(0.0, water - kDrainsAbove);
        water = std::clamp(water, 0.05, 1.0);
        one.soil_water = water;
        days_.push_back(one);
    }
}

const WeatherDay& Weather::on(CampaignDay day) const {
    const int index = day.number() + kDaysBefore;
    require(index >= 0 && index < static_cast<int>(days_.size()), "weather is known for that day");
    return days_[static_cast<std::size_t>(index)];
}

double Weather::dryness(CampaignDay day) const {
    return std::clamp((0.35 - on(day).soil_water) / 0.25, 0.0, 1.0);
}

double Weather::wetness(CampaignDay day) const {
    return std::clamp((on(day).soil_water - 0.45) / 0.5, 0.0, 1.0);
}

double Weather::coldest_night_celsius(CampaignDay until) const {
    double coldest = on(CampaignDay(0)).low_celsius;
    for (int day = 1; day <= until.number(); ++day) {
        coldest = std::min(coldest, on(CampaignDay(day)).low_celsius);
    }
    return coldest;
}

std::vector<ledger::DayTemperature> beet_temperatures(const Weather& weather,
                                                      const DestinationPlan& place) {
    int first = kLastSlicing.number();
    for (const auto& field : field_plans()) {
        if (field.destination == place.name) {
            first = std::min(first, field.lifting_day);
        }
    }
    if (place.kind == ledger::DestinationKind::factory) {
        first = 0;
    }
    // Beets come in as warm as the week's air; then they follow it slowly, breathe faster the
    // warmer they are (doubling per 10 K), and do not cool below about the freezing of their juice.
    double beets = 0.0;
    for (int day = first - 7; day < first; ++day) {
        beets += weather.on(CampaignDay(day)).mean_celsius / 7.0;
    }
    beets +=
        1.0;  // and a little warmer, from the sun on the heap and the first breathing of wounds
    std::vector<ledger::DayTemperature> series;
    for (int day = first; day <= kLastSlicing.number(); ++day) {
        const double air = weather.on(CampaignDay(day)).mean_celsius;
        beets += (air - beets) / place.lag_days +
                 place.heating_K_per_day * std::exp2((beets - 5.0) / 10.0);
        beets = std::max(beets, -1.0);
        series.push_back(
            {.day = CampaignDay(day).on(kFirstDay), .mean = Temperature::celsius(beets)});
    }
    return series;
}

}  // namespace beetwright::demo
