#include "engine/ground_ahead.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "engine/ground_state.hpp"
#include "weather/topsoil.hpp"

namespace beetwright::engine {
namespace {

using weather::Hour;
using weather::Outlook;
using weather::Series;

/// Draws of the ground's constants for each member: with fifty members, a thousand in all.
constexpr std::size_t kDraws = 20;

/// What was measured, and then a member: what is not in both is in neither.
Series spliced(const Series& measured, const Series& member, Instant now) {
    Series whole = measured;
    const auto until = static_cast<std::size_t>(
        std::max<std::int64_t>(0, (now - measured.begin) / std::chrono::hours(1)));
    whole.hours.resize(std::min(whole.hours.size(), until));
    // Of hours that nobody measured before now the member knows, if it reaches so far back.
    const auto from = (whole.begin_of(whole.hours.size()) - member.begin) / std::chrono::hours(1);
    for (auto k = std::max<std::int64_t>(0, from);
         k < static_cast<std::int64_t>(member.hours.size()); ++k) {
        whole.hours.push_back(member.hours[static_cast<std::size_t>(k)]);
    }
    for (std::size_t e = 0; e < weather::kElements; ++e) {
        const auto element = static_cast<weather::Element>(e);
        if (!measured.has(element) || !member.has(element)) {
            for (Hour& hour : whole.hours) {
                hour[e] = weather::kUnknown;
            }
        }
    }
    return whole;
}

Estimate<double> estimate_of(std::vector<double> numbers) {
    std::ranges::sort(numbers);
    const auto at = [&](double share) {
        return numbers[static_cast<std::size_t>(
            std::lround(share * static_cast<double>(numbers.size() - 1)))];
    };
    const double mean =
        std::accumulate(numbers.begin(), numbers.end(), 0.0) / static_cast<double>(numbers.size());
    const double tail = 0.5 * (1.0 - kIntervalLevel);
    return {.value = mean, .low = std::min(mean, at(tail)), .high = std::max(mean, at(1.0 - tail))};
}

}  // namespace

std::vector<GroundAhead> ground_ahead(const ledger::Season& season, const ledger::Field& field,
                                      const Outlook& outlook, const Catalogue& catalogue) {
    if (season.weather == nullptr || !season.weather->observed) {
        return {};
    }
    const Series& measured = *season.weather->observed;
    const auto soil_class = ledger::soil_class_of(season, field.soil);
    const auto& soil = weather::soil_of(soil_class);
    const auto draws = weather::ground_draws(catalogue, season.seed, kDraws);
    const weather::WheelStress wheel(tyre_of(season, field, catalogue).tyre);
    const Day today = std::chrono::floor<std::chrono::days>(outlook.now + measured.clock);

    std::vector<weather::ConsistencyLimits> limits;  // of each draw, whatever the member and day
    for (const auto& draw : draws.draws) {
        limits.push_back(weather::consistency_limits(soil, draw.soil));
    }

    std::vector<GroundAhead> ahead;
    std::vector<std::vector<double>> moisture;
    std::vector<weather::SunPosition> suns;
    for (const Series& member : outlook.members) {
        const Series whole = spliced(measured, member, outlook.now);
        if (suns.empty()) {
            suns = weather::sun_hours(whole);
        }
        std::size_t place = 0;
        for (const auto& day : weather::topsoil_days(whole, weather::sky_hours(whole, suns),
                                                     {.soil = soil_class}, draws.best.soil)) {
            if (day.day < today) {
                continue;
            }
            if (place == ahead.size()) {
                ahead.emplace_back().day = day.day;
                moisture.emplace_back();
            }
            moisture[place].push_back(day.moisture);
            auto& now = ahead[place++];
            for (const auto& of_draw : limits) {
                const auto is = weather::consistency(day.moisture, of_draw);
                now.consistency_chance[static_cast<std::size_t>(is)] += 1.0;
            }
            const auto bears =
                weather::trafficability(wheel, soil, day.moisture, day.moisture_below, draws);
            for (std::size_t b = 0; b < weather::kBearings; ++b) {
                now.bearing_chance[b] += bears.below.chance[b];
            }
        }
    }
    const auto members = static_cast<double>(outlook.members.size());
    for (std::size_t d = 0; d < ahead.size(); ++d) {
        ahead[d].moisture = estimate_of(std::move(moisture[d]));
        for (double& chance : ahead[d].consistency_chance) {
            chance /= members * static_cast<double>(draws.draws.size());
        }
        for (double& chance : ahead[d].bearing_chance) {
            chance /= members;
        }
    }
    return ahead;
}

}  // namespace beetwright::engine
