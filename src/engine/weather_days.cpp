#include "engine/weather_days.hpp"

#include <algorithm>

#include "base/contract.hpp"

namespace beetwright::engine {
namespace {

using weather::Element;
using weather::Series;

std::vector<WeatherDayShown> days_of(const Series& run) {
    std::vector<WeatherDayShown> days;
    const bool has_rain = run.has(Element::rain);
    for (std::size_t k = 0; k < run.hours.size(); ++k) {
        const double air = run.at(k, Element::air);
        if (days.empty() || days.back().day != run.day_of(k)) {
            days.push_back({.day = run.day_of(k), .least_K = air, .most_K = air});
        }
        auto& now = days.back();
        ++now.hours;
        now.filled += std::ranges::binary_search(run.filled, k) ? 1U : 0U;
        now.least_K = std::min(now.least_K, air);
        now.most_K = std::max(now.most_K, air);
        now.mean_K += air;
        now.rain_mm += has_rain ? run.at(k, Element::rain) : weather::kUnknown;
    }
    for (auto& day : days) {
        day.mean_K /= static_cast<double>(day.hours);
        day.most_rain_mm = day.rain_mm;
    }
    return days;
}

}  // namespace

std::vector<WeatherDayShown> weather_days(std::span<const Series> runs) {
    require(!runs.empty(), "there is weather");
    auto all = days_of(runs.front());
    for (const auto& run : runs.subspan(1)) {
        const auto days = days_of(run);
        require(days.size() == all.size(), "runs are of the same hours");
        for (std::size_t d = 0; d < days.size(); ++d) {
            all[d].filled = std::max(all[d].filled, days[d].filled);
            all[d].least_K = std::min(all[d].least_K, days[d].least_K);
            all[d].most_K = std::max(all[d].most_K, days[d].most_K);
            all[d].mean_K += days[d].mean_K;
            all[d].rain_mm += days[d].rain_mm;
            all[d].most_rain_mm = std::max(all[d].most_rain_mm, days[d].most_rain_mm);
        }
    }
    for (auto& day : all) {
        day.mean_K /= static_cast<double>(runs.size());
        day.rain_mm /= static_cast<double>(runs.size());
    }
    return all;
}

}  // namespace beetwright::engine
