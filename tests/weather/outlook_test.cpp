#include "weather/outlook.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <set>

#include "weather/climate.hpp"
#include "weather/evapotranspiration.hpp"

namespace beetwright::weather {
namespace {

using std::chrono::days;
using std::chrono::hours;

constexpr double kZero_K = 273.15;

Instant at(const char* text) {
    return *parse_instant(text);
}

using AirAt = std::function<double(Instant)>;

/// Hours with air [°C] and dry rain; the air tells tests where an hour came from.
Series hourly(const char* from, const char* to, const AirAt& air_C, double rain_mm = 0.0) {
    Series series;
    series.name = "Ottermarsh";
    series.place = Place::degrees(53.1, 8.2, 12.0);
    series.clock = hours(1);
    series.begin = at(from);
    for (Instant k = series.begin; k < at(to); k += hours(1)) {
        auto& hour = series.hours.emplace_back(unknown_hour());
        hour[static_cast<std::size_t>(Element::air)] = kZero_K + air_C(k);
        hour[static_cast<std::size_t>(Element::rain)] = rain_mm;
    }
    return series;
}

AirAt steady(double air_C) {
    return [air_C](Instant) { return air_C; };
}

/// A climate whose air says which day of which year it is: 2030 + day/1000.
double year_and_day(Instant k) {
    const std::chrono::year_month_day date(std::chrono::floor<days>(k + hours(1)));
    const auto first = std::chrono::sys_days(date.year() / 1 / 1);
    const auto day = (std::chrono::floor<days>(k + hours(1)) - first).count() + 1;
    return static_cast<double>(static_cast<int>(date.year()) - 2000) +
           static_cast<double>(day) / 1000.0;
}

int year_of(double air_K) {
    return static_cast<int>(std::floor(air_K - kZero_K + 1e-6));
}
int day_of(double air_K) {
    const double air = air_K - kZero_K;
    return static_cast<int>(std::lround(1000.0 * (air - std::floor(air + 1e-6))));
}

Series years_gone_by() {
    return hourly("2020-12-31T23:00Z", "2025-12-31T23:00Z", year_and_day, 0.1);
}

const OutlookQuestion kInOctober{.now = at("2031-10-10T06:20Z"), .behind = days(5), .members = 40};

KnownWeather all_parts() {
    KnownWeather known;
    known.observed = hourly("2031-09-20T23:00Z", "2031-10-10T05:00Z", steady(-1.0));
    for (int run = 0; run < 4; ++run) {
        known.forecast.push_back(
            hourly("2031-10-10T00:00Z", "2031-10-15T00:00Z", steady(-10.0 - run)));
    }
    known.climate = years_gone_by();
    return known;
}

std::string notes_of(const Outlook& outlook) {
    std::string all;
    for (const auto& note : outlook.notes) {
        all += note + "\n";
    }
    return all;
}

void expect_note(const Outlook& outlook, const std::string& words) {
    EXPECT_NE(notes_of(outlook).find(words), std::string::npos) << words << " is not in:\n"
                                                                << notes_of(outlook);
}

void expect_problem(const KnownWeather& known, const OutlookQuestion& question,
                    const std::string& words) {
    const auto answer = outlook(known, question);
    ASSERT_FALSE(answer) << words;
    EXPECT_NE(answer.problems().front().text().find(words), std::string::npos)
        << answer.problems().front().text();
}

TEST(Outlook, MembersAreMeasuredThenForecastThenOfTheClimate) {
    const auto known = all_parts();
    const auto answer = outlook(known, kInOctober);
    ASSERT_TRUE(answer) << answer.problems().front().text();
    EXPECT_EQ(answer->now, at("2031-10-10T06:00Z"));
    EXPECT_EQ(answer->known_until, at("2031-10-10T05:00Z"));
    EXPECT_EQ(answer->forecast_until, at("2031-10-15T00:00Z"));
    EXPECT_EQ(answer->begin(), at("2031-10-05T06:00Z"));
    EXPECT_EQ(answer->end(), at("2031-10-20T06:00Z"));
    ASSERT_EQ(answer->members.size(), 40U);
    std::set<std::pair<int, int>> stretches;
    for (std::size_t m = 0; m < answer->members.size(); ++m) {
        const auto& member = answer->members[m];
        ASSERT_EQ(member.hours.size(), 15U * 24U);
        for (std::size_t k = 0; k < member.hours.size(); ++k) {
            const double air = member.at(k, Element::air);
            const Instant hour = member.begin_of(k);
            if (hour < answer->known_until) {
                EXPECT_DOUBLE_EQ(air, kZero_K - 1.0);
            } else if (hour < answer->forecast_until) {
                EXPECT_DOUBLE_EQ(air, kZero_K - 10.0 - static_cast<double>(m % 4))
                    << "hours of the forecast that were measured count as measured";
            } else {
                EXPECT_GE(year_of(air), 21);
                EXPECT_LE(year_of(air), 25);
                // 15 October is day 288.
                EXPECT_NEAR(day_of(air), 288, 10 + 6);
            }
        }
        const auto first_of_climate =
            static_cast<std::size_t>((answer->forecast_until - member.begin) / hours(1));
        const double air = member.at(first_of_climate, Element::air);
        stretches.insert({year_of(air), day_of(air)});
        // Read on without a break: the day after the next midnight is the next day.
        EXPECT_EQ(day_of(member.at(first_of_climate + 24, Element::air)), day_of(air) + 1);
    }
    EXPECT_GT(stretches.size(), 20U) << "five years, moved by up to ten days either way";
}

TEST(Outlook, IsTheSameAgainAndAnotherByAnotherSeed) {
    const auto known = all_parts();
    const auto air = [&](std::uint64_t seed, std::size_t members) {
        auto question = kInOctober;
        question.seed = seed;
        question.members = members;
        std::vector<double> all;
        const auto answer = outlook(known, question);
        for (const auto& member : answer->members) {
            all.push_back(member.at(member.hours.size() - 1, Element::air));
        }
        return all;
    };
    EXPECT_EQ(air(1, 40), air(1, 40));
    EXPECT_NE(air(1, 40), air(2, 40));
    auto more = air(1, 60);
    more.resize(40);
    EXPECT_EQ(air(1, 40), more) << "a member is what it is, however many there are";
}

TEST(Outlook, EveryMeasuredHourIsUnchanged) {
    auto known = all_parts();
    known.observed = hourly("2031-09-20T23:00Z", "2031-10-10T05:00Z", year_and_day, 0.7);
    known.observed->filled = {400, 401};
    const auto answer = outlook(known, kInOctober);
    ASSERT_TRUE(answer);
    const auto& member = answer->members.back();
    const auto skipped =
        static_cast<std::size_t>((member.begin - known.observed->begin) / hours(1));
    for (Instant k = member.begin; k < answer->known_until; k += hours(1)) {
        const auto hour = static_cast<std::size_t>((k - member.begin) / hours(1));
        EXPECT_EQ(member.at(hour, Element::air), known.observed->at(hour + skipped, Element::air));
        EXPECT_EQ(member.at(hour, Element::rain), 0.7);
    }
    const auto first = static_cast<std::uint32_t>(400 - skipped);
    EXPECT_EQ(member.filled, (std::vector<std::uint32_t>{first, first + 1}));
}

TEST(Outlook, ATypicalYearGoesOnFromDecemberToJanuary) {
    KnownWeather known;
    // 8760 hours of a year that is not a leap year, on a clock an hour ahead of UTC.
    known.climate = hourly("2000-12-31T23:00Z", "2001-12-31T23:00Z", year_and_day);
    const auto answer =
        outlook(known, {.now = at("2031-12-28T12:00Z"), .behind = days(0), .ahead = days(15)});
    ASSERT_TRUE(answer) << answer.problems().front().text();
    EXPECT_EQ(answer->known_until, answer->begin());
    for (const auto& member : answer->members) {
        ASSERT_EQ(member.hours.size(), 15U * 24U);
        for (std::size_t k = 24; k < member.hours.size(); ++k) {
            const int before = day_of(member.at(k - 24, Element::air));
            const int day = day_of(member.at(k, Element::air));
            EXPECT_EQ(day, before == 365 ? 1 : before + 1);
        }
        // The time of day stays what it is: the day changes at midnight of the local clock.
        EXPECT_EQ(day_of(member.at(10, Element::air)), day_of(member.at(0, Element::air)));
        EXPECT_EQ(day_of(member.at(11, Element::air)),
                  day_of(member.at(0, Element::air)) % 365 + 1);
    }
}

TEST(Climate, LeapDays) {
    const auto typical = hourly("2000-12-31T23:00Z", "2001-12-31T23:00Z", year_and_day);
    const Climate years(typical);
    const Instant from = at("2032-02-28T23:00Z");  // 29 February on the local clock
    const auto stretches = years.stretches(from, from + days(3), days(0));
    ASSERT_EQ(stretches.size(), 1U);
    const auto day = [&](int after) {
        return day_of(years.hour(stretches.front(), from + days(after)).front());
    };
    EXPECT_EQ(day(0), 59) << "28 February, which the year has";
    EXPECT_EQ(day(1), 60) << "and on from there";
    // A leap year is read on through its 29 February, which then stands for another day.
    const auto leap = hourly("2023-12-31T23:00Z", "2024-12-31T23:00Z", year_and_day);
    const Climate leap_year(leap);
    const Instant plain = at("2031-02-27T23:00Z");
    const auto read = leap_year.stretches(plain, plain + days(2), days(0));
    ASSERT_EQ(read.size(), 1U);
    EXPECT_EQ(day_of(leap_year.hour(read.front(), plain + days(1)).front()), 60)
        << "29 February 2024";
}

TEST(Climate, HoldsOnlyTheTimesOfYearThatItHas) {
    const auto autumns = hourly("2024-08-31T23:00Z", "2024-12-31T23:00Z", year_and_day);
    const Climate climate(autumns);
    const auto count = [&](const char* from, int length) {
        return climate.stretches(at(from), at(from) + days(length), days(10)).size();
    };
    EXPECT_EQ(count("2031-10-15T00:00Z", 10), 21U);
    EXPECT_EQ(count("2031-12-26T23:00Z", 5), 11U) << "not moved past the end of December";
    EXPECT_EQ(count("2031-12-30T23:00Z", 12), 0U);
    EXPECT_EQ(count("2031-06-15T00:00Z", 3), 0U);
}

TEST(Outlook, WithoutAForecastTheClimateFollowsTheMeasured) {
    auto known = all_parts();
    known.forecast.clear();
    const auto answer = outlook(known, kInOctober);
    ASSERT_TRUE(answer);
    EXPECT_EQ(answer->forecast_until, answer->known_until);
    EXPECT_EQ(answer->end(), at("2031-10-20T06:00Z"));
    const auto& member = answer->members.front();
    const auto known_hours =
        static_cast<std::size_t>((answer->known_until - member.begin) / hours(1));
    EXPECT_DOUBLE_EQ(member.at(known_hours - 1, Element::air), kZero_K - 1.0);
    EXPECT_GT(member.at(known_hours, Element::air), kZero_K + 20.0);
}

TEST(Outlook, WithoutAClimateItEndsWithTheForecast) {
    auto known = all_parts();
    known.climate.reset();
    const auto answer = outlook(known, kInOctober);
    ASSERT_TRUE(answer);
    EXPECT_EQ(answer->end(), at("2031-10-15T00:00Z"));
    expect_note(*answer, "there is no climate: the outlook ends at 2031-10-15 01:00");
    known.forecast.resize(1);
    auto question = kInOctober;
    question.members = 1;
    const auto one = outlook(known, question);
    ASSERT_TRUE(one);
    EXPECT_EQ(one->members.size(), 1U);
    EXPECT_EQ(notes_of(*one).find("one run"), std::string::npos)
        << "nobody expects one member to differ";
}

TEST(Outlook, AGapBeforeTheForecastIsDrawnBridgedOrRefused) {
    auto known = all_parts();
    known.forecast = {hourly("2031-10-10T08:00Z", "2031-10-15T00:00Z", steady(3.0), 0.4)};
    const auto line = outlook(known, kInOctober);
    ASSERT_TRUE(line);
    // Three hours from -1 to 3 °C.
    const auto& drawn = line->members.front();
    const auto gap = static_cast<std::size_t>((at("2031-10-10T05:00Z") - drawn.begin) / hours(1));
    EXPECT_NEAR(drawn.at(gap, Element::air), kZero_K + 0.0, 1e-9);
    EXPECT_NEAR(drawn.at(gap + 1, Element::air), kZero_K + 1.0, 1e-9);
    EXPECT_NEAR(drawn.at(gap + 2, Element::air), kZero_K + 2.0, 1e-9);
    EXPECT_EQ(drawn.at(gap + 1, Element::rain), 0.0) << "dry before: no rain is supposed";
    EXPECT_EQ(drawn.filled.size(), 3U);

    known.forecast = {hourly("2031-10-10T09:00Z", "2031-10-15T00:00Z", steady(3.0))};
    const auto bridged = outlook(known, kInOctober);
    ASSERT_TRUE(bridged);
    expect_note(*bridged, "from 2031-10-10 06:00 to 2031-10-10 10:00 nothing was measured");
    known.climate.reset();
    expect_problem(known, kInOctober,
                   "the measured hours end at 2031-10-10 06:00, and the forecast begins at "
                   "2031-10-10 10:00");
}

TEST(Outlook, AnOldForecastIsLeftOut) {
    auto known = all_parts();
    known.forecast = {hourly("2031-10-01T00:00Z", "2031-10-08T00:00Z", steady(3.0))};
    const auto answer = outlook(known, kInOctober);
    ASSERT_TRUE(answer);
    expect_note(*answer, "the forecast ended at 2031-10-08 01:00, before now");
    EXPECT_EQ(answer->forecast_until, answer->known_until);
    known.climate.reset();
    expect_problem(known, kInOctober, "nothing is known of the weather after 2031-10-10 07:00");
}

TEST(Outlook, HoursMeasuredAfterNowAreNotKnownYet) {
    auto known = all_parts();
    auto question = kInOctober;
    question.now = at("2031-10-02T00:00Z");
    known.forecast.clear();
    const auto answer = outlook(known, question);
    ASSERT_TRUE(answer);
    EXPECT_EQ(answer->known_until, question.now);
    expect_note(*answer, "measured hours after 2031-10-02 01:00, which is now, are left out");
}

TEST(Outlook, ThePastComesFromTheClimateWhereNobodyMeasured) {
    auto known = all_parts();
    known.observed = hourly("2031-10-09T00:00Z", "2031-10-10T05:00Z", steady(-1.0));
    const auto answer = outlook(known, kInOctober);
    ASSERT_TRUE(answer);
    EXPECT_EQ(answer->begin(), at("2031-10-05T06:00Z"));
    EXPECT_GT(answer->members.front().at(0, Element::air), kZero_K + 20.0);
    expect_note(*answer, "before 2031-10-09 01:00 nobody measured");
    known.climate.reset();
    const auto shorter = outlook(known, kInOctober);
    ASSERT_TRUE(shorter);
    EXPECT_EQ(shorter->begin(), at("2031-10-09T00:00Z"));
}

TEST(Outlook, WhatSomePartsLackIsStoodInForOrLeftOut) {
    auto known = all_parts();
    const auto give = [](Series& series, Element element, double value) {
        for (auto& hour : series.hours) {
            hour[static_cast<std::size_t>(element)] = value;
        }
    };
    give(*known.observed, Element::humidity, 0.8);
    give(*known.observed, Element::snow, 0.0);
    give(*known.observed, Element::rain, kUnknown);
    for (auto& run : known.forecast) {
        give(run, Element::dew_point, kZero_K - 20.0);
        give(run, Element::wind, 5.0);
        give(run, Element::cloud, 1.0);
    }
    give(*known.climate, Element::global, 50.0);
    const auto answer = outlook(known, kInOctober);
    ASSERT_TRUE(answer);
    for (const auto& member : answer->members) {
        for (std::size_t k = 0; k < member.hours.size(); ++k) {
            for (const auto whole : {Element::air, Element::dew_point, Element::humidity,
                                     Element::wind, Element::rain, Element::global}) {
                EXPECT_FALSE(std::isnan(member.at(k, whole))) << words_of(whole);
            }
            EXPECT_TRUE(std::isnan(member.at(k, Element::snow)));
            EXPECT_TRUE(std::isnan(member.at(k, Element::cloud)));
        }
        EXPECT_EQ(member.at(0, Element::humidity), 0.8);
        EXPECT_LT(member.at(0, Element::dew_point), member.at(0, Element::air));
        EXPECT_EQ(member.at(0, Element::rain), 0.1) << "lent by the climate";
        EXPECT_NEAR(wind_at_2m(member.at(0, Element::wind), 10.0), 2.0, 1e-12);
    }
    expect_note(*answer, "not known in all hours, and left out: cloud, snow");
    expect_note(*answer, "take it from a stretch of the climate");
    // Nobody lends rain.
    known.climate.reset();
    const auto dry = outlook(known, kInOctober);
    ASSERT_TRUE(dry);
    EXPECT_EQ(dry->members.front().at(0, Element::rain), 0.0);
    expect_note(*dry, "come without rain, which counts as none");
}

TEST(Outlook, AClimateWithoutRainDoesNotFollowAForecastWithIt) {
    auto known = all_parts();
    for (auto& hour : known.climate->hours) {
        hour[static_cast<std::size_t>(Element::rain)] = kUnknown;
    }
    const auto answer = outlook(known, kInOctober);
    ASSERT_TRUE(answer);
    EXPECT_EQ(answer->end(), at("2031-10-15T00:00Z"));
    expect_note(*answer, "the climate has no rain and is left out");
}

// A degree of latitude is 111.2 km on a globe of 6371 km.
TEST(Outlook, PlacesThatAreFarApart) {
    EXPECT_NEAR(distance_km(Place::degrees(53.0, 8.0, 0.0), Place::degrees(54.0, 8.0, 0.0)), 111.19,
                0.01);
    EXPECT_NEAR(distance_km(Place::degrees(0.0, 179.0, 0.0), Place::degrees(0.0, -179.0, 0.0)),
                222.39, 0.01);
    auto known = all_parts();
    known.climate->place = Place::degrees(54.6, 8.2, 412.0);
    const auto answer = outlook(known, kInOctober);
    ASSERT_TRUE(answer);
    expect_note(*answer, "the climate is of a place 167 km away");
    expect_note(*answer, "the climate is of a place 400 m higher");
    for (auto& run : known.forecast) {
        run.place = Place::degrees(53.1, -8.2, 12.0);
    }
    expect_problem(known, kInOctober, "forecast is of a place 1");
}

TEST(Outlook, BadQuestions) {
    const auto known = all_parts();
    auto question = kInOctober;
    expect_problem({}, question, "nothing is known of the weather");
    question.members = 0;
    expect_problem(known, question, "no members");
    question = kInOctober;
    question.ahead = days(0);
    expect_problem(known, question, "of no time");
    auto uneven = known;
    uneven.forecast.front().begin += std::chrono::minutes(30);
    expect_problem(uneven, kInOctober, "begin at other minutes");
}

}  // namespace
}  // namespace beetwright::weather
