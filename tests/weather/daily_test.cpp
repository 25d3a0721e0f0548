#include "weather/daily.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "base/random.hpp"
#include "weather/sun.hpp"

namespace beetwright::weather {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr double kZero_K = 273.15;

SourceFacts at_home() {
    return {.file = "days.csv",
            .name = "",
            .place = Place::degrees(53.1, 8.2, 12.0),
            .clock = hours(1),
            .stamp = Stamp::hour_beginning};
}

/// Hours of an autumn on the local clock: a daily wave about weather that changes within two days.
std::vector<double> autumn_hours(std::size_t count) {
    RandomStream random(1, "an autumn's hours");
    std::vector<double> air;
    double weather = 0.0;
    for (std::size_t k = 0; k < 24 * count; ++k) {
        const double keep = std::exp(-1.0 / 48.0);
        weather = keep * weather + 3.0 * std::sqrt(1.0 - keep * keep) * random.normal();
        const double hour = static_cast<double>(k % 24) + 0.5;
        air.push_back(kZero_K + 9.0 + weather +
                      4.0 * std::sin(2.0 * std::numbers::pi * (hour - 9.0) / 24.0));
    }
    return air;
}

/// What a station says of the days of those hours, from 1 October on.
std::vector<DailyRecord> october(std::size_t count) {
    const auto air = autumn_hours(count);
    std::vector<DailyRecord> records;
    for (std::size_t d = 0; d < count; ++d) {
        const std::span<const double> hours_of_day(air.data() + 24 * d, 24);
        auto& record = records.emplace_back();
        record.line = static_cast<int>(d) + 2;
        record.day = *day_of(2031, 10, 1) + days(d);
        record.least_K = std::ranges::min(hours_of_day);
        record.most_K = std::ranges::max(hours_of_day);
        record.mean_K = std::accumulate(hours_of_day.begin(), hours_of_day.end(), 0.0) / 24.0;
    }
    return records;
}

Series drawn(const std::vector<DailyRecord>& records, const SourceFacts& facts = at_home()) {
    const auto made = hours_of_days(records, facts);
    EXPECT_TRUE(made) << made.problems().front().text();
    auto series = series_from(made->records, facts);
    EXPECT_TRUE(series) << series.problems().front().text();
    return *series;
}

double mean(const Series& series, std::size_t day, Element element) {
    double sum = 0.0;
    for (std::size_t k = 24 * day; k < 24 * (day + 1); ++k) {
        sum += series.at(k, element);
    }
    return sum / 24.0;
}

TEST(Daily, EachDayKeepsItsLeastItsMostAndItsMean) {
    const auto records = october(60);
    const auto series = drawn(records);
    ASSERT_EQ(series.hours.size(), 60U * 24U);
    EXPECT_EQ(series.begin, *parse_instant("2031-10-01T00:00+01:00"));
    for (std::size_t d = 0; d < records.size(); ++d) {
        EXPECT_NEAR(mean(series, d, Element::air), records[d].mean_K, 1e-5) << d;
        double least = 1e9;
        double most = 0.0;
        for (std::size_t k = 24 * d; k < 24 * (d + 1); ++k) {
            least = std::min(least, series.at(k, Element::air));
            most = std::max(most, series.at(k, Element::air));
        }
        // An hour about a turn is a little less far out than the turn.
        const double span = records[d].most_K - records[d].least_K;
        EXPECT_GE(most, records[d].most_K - 0.03 * span);
        EXPECT_LE(least, records[d].least_K + 0.05 * span);
    }
}

TEST(Daily, WithoutAMeanTheAirIsHalfwayOnTheMean) {
    auto records = october(9);
    for (auto& record : records) {
        record.least_K = kZero_K + 5.0;
        record.most_K = kZero_K + 15.0;
        record.mean_K = kUnknown;
    }
    // Half a wave up and half a wave down have the mean of their ends.
    EXPECT_NEAR(mean(drawn(records), 4, Element::air), kZero_K + 10.0, 0.02);
}

TEST(Daily, TheAirTurnsAtSunriseAndAfterNoon) {
    auto records = october(5);
    for (auto& record : records) {
        record.least_K = kZero_K + 5.0;
        record.most_K = kZero_K + 15.0;
        record.mean_K = kUnknown;
    }
    const auto facts = at_home();
    const auto series = drawn(records);
    const Instant midnight = series.begin + days(2);
    const auto sun = sun_times(midnight, facts.place);
    const auto hour_of = [&](Instant at) {
        return 48 + static_cast<std::size_t>((at - midnight) / hours(1));
    };
    std::size_t least = 48;
    std::size_t most = 48;
    for (std::size_t k = 48; k < 72; ++k) {
        least = series.at(k, Element::air) < series.at(least, Element::air) ? k : least;
        most = series.at(k, Element::air) > series.at(most, Element::air) ? k : most;
    }
    EXPECT_NEAR(static_cast<double>(least), static_cast<double>(hour_of(*sun.rise)), 1.0);
    EXPECT_EQ(most, hour_of(*sun.noon + std::chrono::minutes(150)));
    // No hour leaps: a wave of 10 K over 8 h rises by pi/2 * 10/8 K in its steepest hour.
    for (std::size_t k = 1; k < series.hours.size(); ++k) {
        EXPECT_LT(std::abs(series.at(k, Element::air) - series.at(k - 1, Element::air)), 2.1) << k;
    }
}

TEST(Daily, GoesOnSmoothlyOverMidnightHoweverTheMeansDiffer) {
    const auto series = drawn(october(60));
    for (std::size_t k = 24; k < series.hours.size(); k += 24) {
        const double before = series.at(k - 1, Element::air) - series.at(k - 2, Element::air);
        const double over = series.at(k, Element::air) - series.at(k - 1, Element::air);
        const double after = series.at(k + 1, Element::air) - series.at(k, Element::air);
        EXPECT_NEAR(over, 0.5 * (before + after), 0.35) << k;
    }
}

TEST(Daily, AMeanThatCannotBeKeptIsTold) {
    auto records = october(5);
    records[2].mean_K = records[2].least_K + 0.01;
    const auto made = hours_of_days(records, at_home());
    ASSERT_TRUE(made);
    EXPECT_NE(made->notes.back().find("the mean of 1 day lies so near"), std::string::npos)
        << made->notes.back();
    const auto series = drawn(records);
    for (std::size_t k = 48; k < 72; ++k) {
        EXPECT_GE(series.at(k, Element::air),
                  std::min(records[2].least_K, records[3].least_K) - 1e-9);
    }
}

TEST(Daily, SumsAreKept) {
    auto records = october(3);
    records[0].rain_mm = 0.0;
    records[1].rain_mm = 7.2;
    records[2].rain_mm = 0.6;
    for (auto& record : records) {
        record.sunshine_W_m2 = 110.0;
        record.wind_m_s = 4.0;
        record.humidity = 0.88;
    }
    const auto series = drawn(records);
    for (std::size_t d = 0; d < 3; ++d) {
        EXPECT_NEAR(24.0 * mean(series, d, Element::rain), records[d].rain_mm, 1e-12);
        EXPECT_NEAR(mean(series, d, Element::global), 110.0, 1e-9);
    }
    EXPECT_EQ(series.at(3, Element::global), 0.0) << "no sun at three in the morning";
    EXPECT_GT(series.at(12, Element::global), 300.0);
    EXPECT_EQ(series.at(30, Element::wind), 4.0);
    for (std::size_t k = 0; k < series.hours.size(); ++k) {
        EXPECT_LE(series.at(k, Element::dew_point), series.at(k, Element::air) + 1e-9);
        EXPECT_LE(series.at(k, Element::humidity), 1.0);
    }
    EXPECT_NEAR(mean(series, 0, Element::humidity), 0.88, 1e-9);
    EXPECT_GT(series.at(5, Element::humidity), series.at(14, Element::humidity));
}

// FAO paper 56, example 10: Rio de Janeiro at 22°54' S, May, 7.1 hours of sun a day: 14.5 MJ/m2.
TEST(Daily, SunshineFromItsHours) {
    auto facts = at_home();
    facts.place = Place::degrees(-22.9, -43.2, 0.0);
    facts.clock = hours(-3);
    DailyRecord record;
    record.day = *day_of(2031, 5, 15);
    record.least_K = kZero_K + 19.1;
    record.most_K = kZero_K + 25.1;
    record.bright_s = 7.1 * 3600.0;
    const auto series = drawn({record}, facts);
    EXPECT_NEAR(mean(series, 0, Element::global) * 86'400.0 / 1e6, 14.5, 0.1);
}

TEST(Daily, TurnsOnAnyClock) {
    // A station on the other side of the earth whose days are those of UTC.
    for (const double longitude : {-170.0, -122.0, 0.0, 100.0, 179.0}) {
        auto facts = at_home();
        facts.place = Place::degrees(53.0, longitude, 0.0);
        facts.clock = hours(0);
        auto records = october(4);
        for (auto& record : records) {
            record.least_K = kZero_K + 5.0;
            record.most_K = kZero_K + 15.0;
            record.mean_K = kUnknown;
        }
        const auto series = drawn(records, facts);
        for (std::size_t k = 1; k < series.hours.size(); ++k) {
            EXPECT_LT(std::abs(series.at(k, Element::air) - series.at(k - 1, Element::air)), 2.1);
        }
    }
}

TEST(Daily, WhereTheSunDoesNotRise) {
    auto facts = at_home();
    facts.place = Place::degrees(70.0, 25.0, 0.0);
    auto records = october(3);
    for (std::size_t d = 0; d < 3; ++d) {
        records[d].day = *day_of(2031, 12, 20) + days(d);
        records[d].sunshine_W_m2 = 0.0;
    }
    const auto series = drawn(records, facts);
    EXPECT_NEAR(mean(series, 1, Element::air), records[1].mean_K, 1e-5);
    EXPECT_EQ(mean(series, 1, Element::global), 0.0);
}

void expect_problem(std::vector<DailyRecord> records, int line, const std::string& words) {
    const auto made = hours_of_days(records, at_home());
    ASSERT_FALSE(made) << words;
    EXPECT_EQ(made.problems().front().where.line, line);
    EXPECT_NE(made.problems().front().text().find(words), std::string::npos)
        << made.problems().front().text();
}

TEST(Daily, WhatIsWrongIsTold) {
    auto records = october(10);
    records.erase(records.begin() + 4);
    expect_problem(records, 7, "there is no row for 2031-10-05");
    records.erase(records.begin() + 4, records.begin() + 6);
    expect_problem(records, 9, "there are no rows from 2031-10-05 to 2031-10-07 (3 days)");
    records = october(3);
    records[2].day = records[1].day;
    expect_problem(records, 4, "2031-10-02 stands twice");
    records[2].day = records[0].day;
    expect_problem(records, 4, "2031-10-01 comes after 2031-10-02");
    records = october(3);
    std::swap(records[1].least_K, records[1].most_K);
    expect_problem(records, 3, "the least temperature of 2031-10-02 is above the most");
    records = october(3);
    records[1].mean_K = records[1].most_K + 1.0;
    expect_problem(records, 3, "does not lie between least and most");
    records = october(3);
    records[0].most_K = kUnknown;
    expect_problem(records, 2, "the air of 2031-10-01 is not known");
    records = october(3);
    records[1].sunshine_W_m2 = 400.0;
    expect_problem(records, 3, "come in outside the air");
    records = october(3);
    records[1].bright_s = 14.0 * 3600.0;
    expect_problem(records, 3, "14.0 h of sun on 2031-10-02, whose day is 11.");
}

}  // namespace
}  // namespace beetwright::weather
