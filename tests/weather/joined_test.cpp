// One file of weather after another.
#include "weather/joined.hpp"

#include <gtest/gtest.h>

#include "weather/known.hpp"

namespace beetwright::weather {
namespace {

using std::chrono::hours;

constexpr auto kBegin = Instant(std::chrono::sys_days(std::chrono::year(2031) / 10 / 1));

/// Hours of which the temperature counts up, with rain in those that divide by five.
Series counting(int from, int count) {
    Series series;
    series.place = Place::degrees(54.0, 7.0, 2.0);
    series.clock = std::chrono::minutes(60);
    series.begin = kBegin + hours(from);
    for (int k = from; k < from + count; ++k) {
        auto hour = unknown_hour();
        hour[static_cast<std::size_t>(Element::air)] = 280.0 + 0.1 * k;
        hour[static_cast<std::size_t>(Element::rain)] = k % 5 == 0 ? 1.0 : 0.0;
        series.hours.push_back(hour);
    }
    return series;
}

std::string told(const Result<Series>& result) {
    return result.ok() ? "" : result.problems().front().text();
}

TEST(Joined, GoesOnWhereTheFirstEnds) {
    const auto all = joined(counting(0, 30), counting(30, 20));
    ASSERT_TRUE(all.ok()) << told(all);
    EXPECT_EQ(all->hours.size(), 50U);
    EXPECT_EQ(all->begin, kBegin);
    EXPECT_TRUE(all->filled.empty());
    for (std::size_t k = 0; k < 50; ++k) {
        EXPECT_DOUBLE_EQ(all->at(k, Element::air), 280.0 + 0.1 * static_cast<double>(k));
    }
}

TEST(Joined, TakesWhatOverlapsOnce) {
    const auto all = joined(counting(0, 30), counting(20, 20));
    ASSERT_TRUE(all.ok()) << told(all);
    EXPECT_EQ(all->hours.size(), 40U);
    EXPECT_EQ(joined(counting(0, 30), counting(5, 10))->hours.size(), 30U);
    EXPECT_EQ(joined(counting(0, 30), counting(0, 30))->hours.size(), 30U);
}

TEST(Joined, KeepsTheMarksOfBoth) {
    auto first = counting(0, 30);
    first.filled = {4};
    auto second = counting(20, 20);
    second.filled = {3, 15};  // the first of them the other has
    EXPECT_EQ(joined(first, second)->filled, (std::vector<std::uint32_t>{4, 35}));
}

TEST(Joined, FillsUpToThreeHoursAndMarksThem) {
    const auto all = joined(counting(0, 30), counting(33, 10));
    ASSERT_TRUE(all.ok()) << told(all);
    EXPECT_EQ(all->filled, (std::vector<std::uint32_t>{30, 31, 32}));
    EXPECT_NEAR(all->at(31, Element::air), 283.1, 1e-9);
    EXPECT_EQ(all->at(31, Element::rain), 0.0);
}

TEST(Joined, RefusesALongerGapWithItsDates) {
    const auto all = joined(counting(0, 30), counting(34, 10));
    EXPECT_NE(told(all).find("ends on 2031-10-02 07:00, and this begins on 2031-10-02 11:00: 4 h"),
              std::string::npos)
        << told(all);
}

TEST(Joined, RefusesTwoThatOverlapAndDiffer) {
    auto other = counting(20, 20);
    other.hours[4][static_cast<std::size_t>(Element::air)] += 0.2;
    EXPECT_NE(told(joined(counting(0, 30), other))
                  .find("from 2031-10-02 01:00 on it has another temperature of the air"),
              std::string::npos);
    // A tenth of a degree rounded otherwise is the same hour.
    other.hours[4][static_cast<std::size_t>(Element::air)] -= 0.16;
    EXPECT_TRUE(joined(counting(0, 30), other).ok());
}

TEST(Joined, RefusesAnotherPlaceOrInstrument) {
    auto far = counting(30, 10);
    far.place = Place::degrees(54.5, 7.0, 2.0);
    EXPECT_NE(told(joined(counting(0, 30), far)).find("another place"), std::string::npos);
    auto east = counting(30, 10);
    east.clock = std::chrono::minutes(120);
    EXPECT_EQ(joined(counting(0, 30), east)->clock, std::chrono::minutes(60));
    auto dry = counting(30, 10);
    for (auto& hour : dry.hours) {
        hour[static_cast<std::size_t>(Element::rain)] = kUnknown;
    }
    EXPECT_NE(told(joined(counting(0, 30), dry)).find("it has no rain"), std::string::npos);
    EXPECT_NE(told(joined(counting(10, 30), counting(0, 30))).find("before what the season has"),
              std::string::npos);
}

TEST(KnownAt, EndsWhereNowIs) {
    KnownWeather known;
    known.observed = counting(0, 30);
    known.observed->filled = {3, 25};
    known.forecast = {counting(30, 10)};
    known.climate = counting(-100, 90);
    const auto then = known_at(known, kBegin + hours(20));
    EXPECT_EQ(then.observed->hours.size(), 20U);
    EXPECT_EQ(then.observed->filled, std::vector<std::uint32_t>{3});
    EXPECT_TRUE(then.forecast.empty());
    EXPECT_TRUE(then.climate.has_value());
    EXPECT_EQ(known_at(known, kBegin + hours(30)).forecast.size(), 1U);
    EXPECT_EQ(known_at(known, kBegin + hours(35)).observed->hours.size(), 30U);
    EXPECT_FALSE(known_at(known, kBegin - hours(1)).observed.has_value());
}

}  // namespace
}  // namespace beetwright::weather
