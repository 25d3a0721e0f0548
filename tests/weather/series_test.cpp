#include "weather/series.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>

namespace beetwright::weather {
namespace {

using std::chrono::hours;

const Instant kStart = *parse_instant("2031-10-04T00:00Z");

SourceFacts facts(Stamp stamp = Stamp::hour_beginning) {
    return {.file = "w.csv",
            .name = "Somewhere",
            .place = Place::degrees(53.0, 8.0, 10.0),
            .clock = std::chrono::minutes(60),
            .stamp = stamp};
}

Record record(int hour, double air_C, double rain_mm = kUnknown) {
    Record r;
    r.line = hour + 2;
    r.at = kStart + hours(hour);
    r.values[static_cast<std::size_t>(Element::air)] = air_C + 273.15;
    r.values[static_cast<std::size_t>(Element::rain)] = rain_mm;
    return r;
}

std::vector<Record> run_of(int count, const std::function<double(int)>& air_C) {
    std::vector<Record> records;
    for (int k = 0; k < count; ++k) {
        records.push_back(record(k, air_C(k)));
    }
    return records;
}

void expect_refused(const std::vector<Record>& records, const std::string& what, int line = -1,
                    SourceFacts from = facts()) {
    const auto series = series_from(records, from);
    ASSERT_FALSE(series) << what;
    const auto& problem = series.problems().front();
    EXPECT_NE(problem.text().find(what), std::string::npos) << problem.text();
    if (line >= 0) {
        EXPECT_EQ(problem.where.line, line) << problem.text();
    }
}

TEST(Series, HoursAreNamedByTheirBeginning) {
    const auto records = run_of(5, [](int k) { return k; });
    const auto beginning = series_from(records, facts(Stamp::hour_beginning));
    const auto ending = series_from(records, facts(Stamp::hour_ending));
    const auto instant = series_from(records, facts(Stamp::instant));
    ASSERT_TRUE(beginning && ending && instant);
    EXPECT_EQ(beginning->begin, kStart);
    EXPECT_EQ(ending->begin, kStart - hours(1));
    EXPECT_EQ(ending->hours.size(), 5U);
    EXPECT_EQ(instant->begin, kStart);
    ASSERT_EQ(instant->hours.size(), 4U);
    EXPECT_NEAR(instant->at(2, Element::air) - 273.15, 2.5, 1e-12) << "the mean of both ends";
}

TEST(Series, AShortGapIsFilledAndMarked) {
    auto records = run_of(10, [](int k) { return 2.0 * k; });
    records.erase(records.begin() + 4, records.begin() + 7);
    const auto series = series_from(records, facts());
    ASSERT_TRUE(series);
    EXPECT_EQ(series->hours.size(), 10U);
    for (std::size_t k = 0; k < 10; ++k) {
        EXPECT_NEAR(series->at(k, Element::air) - 273.15, 2.0 * static_cast<double>(k), 1e-9);
    }
    EXPECT_EQ(series->filled, (std::vector<std::uint32_t>{4, 5, 6}));
}

TEST(Series, ALongGapIsRefusedWithItsDates) {
    auto records = run_of(20, [](int) { return 5.0; });
    records.erase(records.begin() + 4, records.begin() + 8);
    expect_refused(records, "there are no rows from 2031-10-04 05:00 to 2031-10-04 09:00 (4 h)",
                   10);
    auto with_hole = run_of(20, [](int) { return 5.0; });
    for (int k = 0; k < 20; ++k) {
        with_hole[static_cast<std::size_t>(k)] = record(k, 5.0, k >= 10 && k < 15 ? kUnknown : 0.2);
    }
    expect_refused(with_hole, "rain is missing from 2031-10-04 11:00", 12);
}

TEST(Series, AnElementIsWholeOrNotThere) {
    auto records = run_of(6, [](int) { return 5.0; });
    EXPECT_FALSE(series_from(records, facts())->has(Element::rain));
    records[5] = record(5, 5.0, 1.0);
    expect_refused(records, "rain is missing from 2031-10-04 01:00");
    for (auto& r : records) {
        r.values[0] = kUnknown;
    }
    expect_refused(records, "no row has a temperature");
    expect_refused({}, "there are no rows");
}

TEST(Series, ClocksThatAreSetBackOrForwardAreTold) {
    auto twice = run_of(6, [](int) { return 5.0; });
    twice[3].at = twice[2].at;
    expect_refused(twice, "stands twice", 5);
    auto back = run_of(6, [](int) { return 5.0; });
    back[3].at = back[1].at - hours(1);
    expect_refused(back, "comes after", 5);
    auto half = run_of(6, [](int) { return 5.0; });
    half[3].at += std::chrono::minutes(30);
    expect_refused(half, "not of a full hour", 5);
}

TEST(Series, NothingIsFilledAcrossTheJoinOfTwoYears) {
    auto records = run_of(10, [](int) { return 5.0; });
    records[5].is_join = true;
    EXPECT_TRUE(series_from(records, facts()));
    records.erase(records.begin() + 3, records.begin() + 5);
    expect_refused(records, "is missing from");
}

TEST(Series, FahrenheitReadAsCelsiusIsSuspected) {
    expect_refused(run_of(24, [](int k) { return k == 20 ? 61.0 : 50.0; }),
                   "look as if they were °F");
    // A cool autumn in °F never passes 57, but its month does pass 38.
    expect_refused(run_of(800, [](int k) { return 45.0 + 8.0 * std::sin(0.26 * k); }),
                   "look as if they were °F");
    EXPECT_TRUE(
        series_from(run_of(800, [](int k) { return 30.0 + 8.0 * std::sin(0.26 * k); }), facts()));
}

TEST(Series, AWinterInJulyIsSuspected) {
    const auto year = [](double summer) {
        return run_of(8760,
                      [=](int k) { return 10.0 - summer * std::cos(2.0 * 3.14159 * k / 8760.0); });
    };
    // The year begins in October here: its warm half is April's.
    auto records = year(0.0);
    for (auto& r : records) {
        const std::chrono::year_month_day date(std::chrono::floor<std::chrono::days>(r.at));
        r.values[0] = date.month() == std::chrono::July ? 263.15 : 293.15;
    }
    expect_refused(records, "January is the warm month");
    auto south = facts();
    south.place = Place::degrees(-38.0, 145.0, 10.0);
    EXPECT_TRUE(series_from(records, south));
}

}  // namespace
}  // namespace beetwright::weather
