#include "weather/lifting_hours.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

namespace beetwright::weather {
namespace {

constexpr std::size_t kDay = 24;

const LiftingConstants kUsual = [] {
    const Catalogue catalogue;
    return lifting_constants([&](ConstantId id) { return catalogue.value(id); });
}();

/// Days of a daily wave about a mean that `mean_C` gives for each hour, and rain.
Series autumn(
    std::size_t days, const std::function<double(std::size_t)>& air_C,
    const std::function<double(std::size_t)>& rain_mm = [](std::size_t) { return 0.0; }) {
    Series series;
    series.place = Place::degrees(53.0, 8.0, 10.0);
    series.clock = std::chrono::minutes(60);
    series.begin = *parse_instant("2031-10-01T00:00+01:00");
    for (std::size_t k = 0; k < days * kDay; ++k) {
        auto& hour = series.hours.emplace_back(unknown_hour());
        hour[static_cast<std::size_t>(Element::air)] = air_C(k) + 273.15;
        hour[static_cast<std::size_t>(Element::rain)] = rain_mm(k);
    }
    return series;
}

double wave(std::size_t k) {
    return std::sin(2.0 * std::numbers::pi * (static_cast<double>(k % kDay) - 9.0) / 24.0);
}

std::vector<FieldHour> judged(const Series& series, const FieldRules& rules) {
    const auto sky = sky_hours(series);
    const auto roots = root_hours(series, sky, kUsual);
    std::vector<FieldHour> hours(series.hours.size());
    judge_hours(sky, roots, rules, kUsual, hours);
    return hours;
}

TEST(LiftingHours, ADryMildAutumnIsOpenThroughout) {
    const auto series = autumn(20, [](std::size_t k) { return 8.0 + 4.0 * wave(k); });
    for (const auto& hour : judged(series, usual_rules(kUsual))) {
        EXPECT_TRUE(hour.holds.is_open());
    }
}

TEST(LiftingHours, RainHoldsUntilADayHasPassedOrTheTopsoilHasDrained) {
    const auto rain_at = [](double mm) {
        return autumn(
            10, [](std::size_t) { return 8.0; },
            [mm](std::size_t k) { return k == 48 ? mm : 0.0; });
    };
    auto rules = usual_rules(kUsual);
    rules.first_filling = 0.3;
    const auto light = judged(rain_at(2.9), rules);
    EXPECT_TRUE(light[48].holds.is_open()) << "2.9 mm on dry ground";
    const auto rain = judged(rain_at(3.0), rules);
    for (std::size_t k = 0; k < rain.size(); ++k) {
        EXPECT_EQ(rain[k].holds.has(Held::wet), k >= 48 && k < 72) << k;
    }
    // Ground that is full drains: the slower, the longer it is held.
    const auto held = [&](double lag_h) {
        rules.drain_lag_h = lag_h;
        std::size_t count = 0;
        for (const auto& hour : judged(rain_at(40.0), rules)) {
            count += hour.holds.has(Held::wet) ? 1U : 0U;
        }
        return count;
    };
    EXPECT_EQ(held(6.0), 24U) << "the day's rule holds longer than sand does";
    EXPECT_GT(held(72.0), held(30.0));
    // From full, 0.18 of the bucket above what it holds, to 0.08 above it, by drainage alone: lag
    // ln(18/8).
    EXPECT_LE(static_cast<double>(held(72.0)), 72.0 * std::log(0.18 / 0.08) + 2.0);
}

TEST(LiftingHours, TheTopsoilKeepsItsWater) {
    const auto series = autumn(
        30, [](std::size_t k) { return 10.0 + 3.0 * wave(k); },
        [](std::size_t k) { return k % 50 == 7 ? 6.0 : 0.0; });
    for (const auto& hour : judged(series, usual_rules(kUsual))) {
        EXPECT_GE(hour.filling, 0.0F);
        EXPECT_LE(hour.filling, 1.0F);
    }
}

// Air at -6.7 °C, at which crowns freeze as published, after mild days.
TEST(LiftingHours, AHardNightHoldsAndItsThawIsWaitedFor) {
    const auto night = [](double least) {
        return autumn(12, [least](std::size_t k) { return k >= 120 && k < 134 ? least : 6.0; });
    };
    const auto hours = judged(night(-6.7), usual_rules(kUsual));
    std::size_t held = 0;
    for (std::size_t k = 0; k < hours.size(); ++k) {
        held += hours[k].holds.has(Held::frost) ? 1U : 0U;
        if (hours[k].holds.has(Held::frost)) {
            EXPECT_GT(k, 120U) << "not before it is cold";
        }
    }
    EXPECT_GT(held, 8U);
    const auto count = [&](double least) {
        std::size_t n = 0;
        for (const auto& hour : judged(night(least), usual_rules(kUsual))) {
            n += hour.holds.has(Held::frost) ? 1U : 0U;
        }
        return n;
    };
    EXPECT_EQ(count(-3.0), 0U) << "a light frost does not reach the crown's -3 °C";
    EXPECT_GT(count(-12.0), count(-6.7)) << "the colder, the longer the wait";
    EXPECT_LE(count(-25.0), 14U + 72U + 24U) << "never more than three days after the thaw";
}

TEST(LiftingHours, WarmRootsAreHeldFromThePileAndNotFromTheSlicer) {
    const auto series = autumn(10, [](std::size_t k) { return 13.0 + 7.0 * wave(k); });
    auto rules = usual_rules(kUsual);
    const auto piled = judged(series, rules);
    std::size_t by_day = 0;
    std::size_t by_night = 0;
    for (std::size_t k = 5 * kDay; k < piled.size(); ++k) {
        const auto hour = k % kDay;
        (hour >= 11 && hour < 19 ? by_day : by_night) += piled[k].holds.has(Held::heat) ? 1U : 0U;
    }
    EXPECT_GT(by_day, by_night) << "the afternoon is the warm part";
    EXPECT_GT(by_day, 30U);
    rules.goes_to_pile = false;
    for (const auto& hour : judged(series, rules)) {
        EXPECT_TRUE(hour.holds.is_open());
    }
}

TEST(LiftingHours, TheDarkHoldsWhomeverWantsIt) {
    const auto series = autumn(2, [](std::size_t) { return 8.0; });
    auto rules = usual_rules(kUsual);
    rules.works_at_night = false;
    const auto hours = judged(series, rules);
    EXPECT_TRUE(hours[2].holds.has(Held::dark));
    EXPECT_TRUE(hours[12].holds.is_open());
    EXPECT_TRUE(hours[22].holds.has(Held::dark));
}

TEST(RootHours, ARootFollowsTheWeekAndABitOfTheDay) {
    const auto series =
        autumn(60, [](std::size_t k) { return (k < 720 ? 12.0 : 6.0) + 5.0 * wave(k); });
    const auto roots = root_hours(series, sky_hours(series), kUsual);
    const auto mean = [&](std::size_t day) {
        double sum = 0.0;
        for (std::size_t k = day * kDay; k < (day + 1) * kDay; ++k) {
            sum += roots[k].root_K - 273.15;
        }
        return sum / kDay;
    };
    EXPECT_NEAR(mean(29), 12.0, 0.1);
    // A step of six kelvin: after the ground's lag of six days 1/e of it is left.
    EXPECT_NEAR(mean(36), 6.0 + 6.0 * std::exp(-6.5 / 6.0), 0.15);
    EXPECT_NEAR(mean(59), 6.0, 0.1);
    double least = 1e9;
    double most = -1e9;
    for (std::size_t k = 58 * kDay; k < 59 * kDay; ++k) {
        least = std::min(least, roots[k].root_K);
        most = std::max(most, roots[k].root_K);
    }
    EXPECT_NEAR(most - least, 2.0 * 5.0 * kUsual.ground_daily_share, 0.6);
}

TEST(SkyHours, EvaporationFollowsTheSunAndSumsToTheDays) {
    const auto series = autumn(5, [](std::size_t k) { return 12.0 + 5.0 * wave(k); });
    const auto sky = sky_hours(series);
    double night = 0.0;
    double day = 0.0;
    for (std::size_t k = 0; k < sky.size(); ++k) {
        (sky[k].is_dark ? night : day) += sky[k].evaporation_mm;
    }
    EXPECT_DOUBLE_EQ(night, 0.0);
    EXPECT_GT(day / 5.0, 0.8) << "an early October day at 53 N: about 1.5 mm";
    EXPECT_LT(day / 5.0, 2.5);
}

}  // namespace
}  // namespace beetwright::weather
