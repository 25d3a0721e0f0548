#include "io/weather_file.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

namespace beetwright::io {
namespace {

using weather::Element;
using weather::Stamp;

std::string epw_head(const char* latitude = "53.10") {
    return fmt::format(
        "LOCATION,Somewhere,-,NIL,invented,000000,{},8.20,1.0,12.0\n"
        "DESIGN CONDITIONS,0\nTYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\n"
        "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,invented\nCOMMENTS 2,\n"
        "DATA PERIODS,1,1,Data,Sunday,1/1,12/31\n",
        latitude);
}

struct EpwHour {
    int year = 2031;
    unsigned month = 1;
    unsigned day = 1;
    int hour = 1;
    std::string air = "5.0";
    std::string dew = "2.0";
    std::string humidity = "81";
    std::string pressure = "101325";
    std::string global = "0";
    std::string wind = "3.1";
    std::string rain = "0.4";
};

std::string epw_row(const EpwHour& h) {
    return fmt::format(
        "{},{},{},{},60,?9?9,{},{},{},{},0,0,315,{},0,0,999999,999999,999999,9999,200,{},8,8,9999,"
        "99999,9,999999999,999,0.999,999,99,999,{},99\n",
        h.year, h.month, h.day, h.hour, h.air, h.dew, h.humidity, h.pressure, h.global, h.wind,
        h.rain);
}

/// The hours of a span of days.
template <class Change>
std::string epw_days(std::chrono::year_month_day first, int days, Change&& change) {
    std::string text;
    for (int d = 0; d < days; ++d) {
        const std::chrono::year_month_day date(std::chrono::sys_days(first) + std::chrono::days(d));
        for (int hour = 1; hour <= 24; ++hour) {
            EpwHour h;
            h.year = static_cast<int>(date.year());
            h.month = static_cast<unsigned>(date.month());
            h.day = static_cast<unsigned>(date.day());
            h.hour = hour;
            change(h, d);
            text += epw_row(h);
        }
    }
    return text;
}

constexpr auto kJanuary = std::chrono::year{2031} / 1 / 1;
const auto kNoChange = [](EpwHour&, int) {};

void expect_problem(const std::string& bytes, int line, const std::string& words,
                    const WeatherFacts& facts = {}) {
    const auto reading = read_weather(bytes, "w", facts);
    ASSERT_FALSE(reading) << words;
    for (const auto& problem : reading.problems()) {
        if (problem.where.line == line && problem.text().find(words) != std::string::npos) {
            return;
        }
    }
    ADD_FAILURE() << words << " at line " << line << " is not among:\n"
                  << reading.problems().front().text();
}

TEST(Epw, HoursEndWhereTheyAreStamped) {
    const auto text = epw_head() + epw_days(kJanuary, 2, [](EpwHour& h, int d) {
                          h.air = std::to_string(d * 24 + h.hour - 24) + ".0";
                      });
    const auto reading = read_weather(text, "w.epw");
    ASSERT_TRUE(reading) << reading.problems().front().text();
    const auto& series = reading->series;
    EXPECT_EQ(reading->format, WeatherFormat::epw);
    EXPECT_EQ(reading->stamp, Stamp::hour_ending);
    EXPECT_FALSE(reading->is_typical_year);
    ASSERT_EQ(series.hours.size(), 48U);
    EXPECT_EQ(series.begin, *parse_instant("2031-01-01T00:00+01:00"));
    EXPECT_NEAR(series.at(0, Element::air), 273.15 - 23.0, 1e-9);
    EXPECT_NEAR(series.at(47, Element::air), 273.15 + 24.0, 1e-9);
    EXPECT_NEAR(series.place.latitude_rad / weather::kDegree, 53.10, 1e-12);
    EXPECT_DOUBLE_EQ(series.place.elevation_m, 12.0);
    EXPECT_NEAR(series.at(5, Element::humidity), 0.81, 1e-12);
    EXPECT_NEAR(series.at(5, Element::cloud), 0.8, 1e-12);
    EXPECT_DOUBLE_EQ(series.at(5, Element::pressure), 101'325.0);
    EXPECT_DOUBLE_EQ(series.at(5, Element::sky), 315.0);
    EXPECT_DOUBLE_EQ(series.at(5, Element::rain), 0.4);
    EXPECT_FALSE(series.has(Element::snow)) << "999 is the code for nobody measured";
}

TEST(Epw, AWholeYearAndALeapYear) {
    const auto winter = [](EpwHour& h, int d) {
        h.air =
            fmt::format("{:.1f}", 9.0 - 8.0 * std::cos(2.0 * std::numbers::pi * (d - 20) / 365));
    };
    const auto year = read_weather(epw_head() + epw_days(kJanuary, 365, winter), "w.epw");
    ASSERT_TRUE(year) << year.problems().front().text();
    EXPECT_EQ(year->series.hours.size(), 8760U);
    const auto leap =
        read_weather(epw_head() + epw_days(std::chrono::year{2032} / 1 / 1, 366, winter), "w.epw");
    ASSERT_TRUE(leap) << leap.problems().front().text();
    EXPECT_EQ(leap->series.hours.size(), 8784U);
    EXPECT_EQ(leap->series.day_of(59 * 24),
              std::chrono::sys_days(std::chrono::year{2032} / 2 / 29));
    // The same with the sign of its latitude lost.
    expect_problem(epw_head("-53.10") + epw_days(kJanuary, 365, winter), 0,
                   "July is the warm month here, and the latitude is south");
}

TEST(Epw, ATypicalYearIsPutTogetherFromSeveral) {
    auto text = epw_head() + epw_days(std::chrono::year{1988} / 1 / 1, 31, kNoChange) +
                epw_days(std::chrono::year{1995} / 2 / 1, 28, kNoChange);
    const auto reading = read_weather(text, "w.epw");
    ASSERT_TRUE(reading) << reading.problems().front().text();
    EXPECT_TRUE(reading->is_typical_year);
    EXPECT_EQ(reading->series.hours.size(), 59U * 24U);
    // The last hours of January are not filled from February of another year.
    const auto first_of_february = text.find("1995,2,1,1,");
    text.erase(text.rfind('\n', text.rfind('\n', first_of_february - 2) - 1) + 1,
               text.substr(text.rfind('\n', text.rfind('\n', first_of_february - 2) - 1) + 1)
                   .find("1995,2,1,1,"));
    const auto cut = read_weather(text, "w.epw");
    ASSERT_FALSE(cut);
    EXPECT_NE(cut.problems().front().what.find("is missing from 2001-01-31 22:00"),
              std::string::npos)
        << cut.problems().front().what;
}

TEST(Epw, CodesForMissingAreGapsAndImpossibleNumbersAreTold) {
    const auto with = [](int day, auto change) {
        return epw_head() + epw_days(kJanuary, 3, [=](EpwHour& h, int d) {
                   if (d == day && h.hour == 5) {
                       change(h);
                   }
               });
    };
    const auto gap = read_weather(with(1, [](EpwHour& h) { h.air = "99.9"; }), "w.epw");
    ASSERT_TRUE(gap);
    EXPECT_EQ(gap->series.filled, std::vector<std::uint32_t>{28});
    // Line 8 is the last of the head; the fifth hour of the second day is the 29th row.
    constexpr int kLine = 8 + 29;
    expect_problem(with(1, [](EpwHour& h) { h.pressure = "1013"; }), kLine, "1013 is not possible");
    expect_problem(with(1, [](EpwHour& h) { h.wind = "calm"; }), kLine, "'calm' is not a number");
    expect_problem(with(1, [](EpwHour& h) { h.day = 32; }), kLine, "no hour of a year");
    expect_problem(with(1, [](EpwHour& h) { h.hour = 25; }), kLine, "no hour of a year");
    expect_problem(epw_head("north") + epw_days(kJanuary, 1, kNoChange), 1, "is no latitude");
    expect_problem("LOCATION,Somewhere\n", 1, "ten cells");
    // A forecast is kept by its days: of a year like this none could be read back.
    expect_problem(epw_head() + epw_days(std::chrono::year{231} / 10 / 1, 1, kNoChange), 9,
                   "the year 231 is not of our time");
    expect_problem(epw_head(), 0, "there are no rows");
    expect_problem(epw_head() + "2031,1,1,1,60,?\n", 9, "cells where an hour has 35");
}

TEST(Tmy3, HoursAndHeadings) {
    std::string text =
        "000001,\"SOMEWHERE\",XX,-8.0,47.45,-122.30,122\n"
        "Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),GHI (W/m^2),Dry-bulb (C),RHum (%),Pressure "
        "(mbar),Wspd (m/s)\n";
    for (int hour = 1; hour <= 24; ++hour) {
        text +=
            fmt::format("01/31/1988,{:02}:00,0,{},4.5,90,1012,2.5\n", hour, hour == 12 ? 210 : 0);
    }
    const auto reading = read_weather(text, "w.csv");
    ASSERT_TRUE(reading) << reading.problems().front().text();
    EXPECT_EQ(reading->format, WeatherFormat::tmy3);
    ASSERT_EQ(reading->series.hours.size(), 24U);
    EXPECT_EQ(reading->series.begin, *parse_instant("1988-01-31T00:00-08:00"));
    EXPECT_DOUBLE_EQ(reading->series.at(11, Element::global), 210.0);
    EXPECT_DOUBLE_EQ(reading->series.at(0, Element::pressure), 101'200.0);
    EXPECT_EQ(reading->series.name, "SOMEWHERE");
    expect_problem(text + "31.01.1988,25:00,0,0,4.5,90,1012,2.5\n", 27, "no hour of a year");
}

constexpr const char* kTable =
    "# station: Ottermarsh\n# latitude: 53.1\n# longitude: 8.2\n"
    "hour_ending [dd.mm.yyyy hh:mm +01:00];temperature [°F];rain [in];wind [km/h];(remark)\n"
    "04.10.2031 01:00;50;0,1;36;x\n"
    "04.10.2031 02:00;41;0;18;\n";

TEST(WeatherTable, UnitsOfItsHeadings) {
    const auto reading = read_weather(kTable, "w.csv");
    ASSERT_TRUE(reading) << reading.problems().front().text();
    const auto& series = reading->series;
    EXPECT_EQ(reading->stamp, Stamp::hour_ending);
    EXPECT_EQ(series.name, "Ottermarsh");
    ASSERT_EQ(series.hours.size(), 2U);
    EXPECT_EQ(series.begin, *parse_instant("2031-10-04T00:00+01:00"));
    EXPECT_EQ(series.clock, std::chrono::minutes(60)) << "by the longitude";
    EXPECT_NEAR(series.at(0, Element::air), 283.15, 1e-9);
    EXPECT_NEAR(series.at(0, Element::rain), 2.54, 1e-9);
    EXPECT_NEAR(series.at(1, Element::wind), 5.0, 1e-9);
}

TEST(WeatherTable, WhatItMustSay) {
    const std::string rows = "2031-10-04T01:00Z,5\n2031-10-04T02:00Z,5\n";
    expect_problem("at,temperature [°C]\n" + rows, 0, "does not say where");
    const std::string place = "# latitude: 53.1\n# longitude: 8.2\n";
    EXPECT_TRUE(read_weather(place + "at,temperature [°C]\n" + rows, "w"));
    expect_problem(place + "temperature [°C]\n5\n", 4, "no column says when");
    expect_problem(
        place + "at,hour_ending,temperature [°C]\n2031-10-04T01:00Z,2031-10-04T01:00Z,5\n", 4,
        "two columns say when");
    expect_problem(place + "at,temperature\n" + rows, 3, "does not say the unit");
    expect_problem("# latitude: 153.1\n# longitude: 8.2\nat,temperature [°C]\n" + rows, 1,
                   "is no latitude");
    expect_problem(place + "at,temperature [°C]\n2031-10-04T01:00Z,500\n", 4, "not possible");
    // Somebody else's table, with what it does not say given beside it.
    const WeatherFacts given{
        .latitude_deg = 47.45,
        .longitude_deg = -122.31,
        .elevation_m = 130.0,
        .clock = std::chrono::hours(-8),
        .headings = "at [yyyy-mm-dd hh:mm -08:00],pressure [hPa],temperature [°C]"};
    const auto theirs = read_weather(
        "date,pressure,temperature\n2010-01-01T01:00:00,1016.6,4.0\n2010-01-01T02:00:00,1016.6,3."
        "0\n",
        "w", given);
    ASSERT_TRUE(theirs) << theirs.problems().front().text();
    EXPECT_EQ(theirs->stamp, Stamp::instant);
    ASSERT_EQ(theirs->series.hours.size(), 1U);
    EXPECT_NEAR(theirs->series.at(0, Element::air), 276.65, 1e-9);
}

constexpr const char* kDays =
    "# latitude: 53.1\n# longitude: 8.2\n"
    "day [dd.mm.yyyy];least [°C];most [°C];mean [°C];rain [mm];global [MJ/m2/d];(remark)\n"
    "04.10.2031;6,2;14,8;9,9;0,0;9,5;x\n"
    "05.10.2031;8,1;13,0;10,7;6,4;3,1;\n";

TEST(WeatherDays, HoursAreDrawnAndMarked) {
    const auto reading = read_weather(kDays, "w.csv");
    ASSERT_TRUE(reading) << reading.problems().front().text();
    EXPECT_EQ(reading->format, WeatherFormat::days);
    const auto& series = reading->series;
    ASSERT_EQ(series.hours.size(), 48U);
    EXPECT_EQ(series.filled.size(), 48U) << "every hour is one that nobody measured";
    EXPECT_EQ(series.begin, *parse_instant("2031-10-04T00:00+01:00"));
    EXPECT_FALSE(reading->notes.empty());
    double air = 0.0;
    double rain = 0.0;
    double energy_MJ = 0.0;
    for (std::size_t k = 24; k < 48; ++k) {
        air += series.at(k, Element::air) / 24.0;
        rain += series.at(k, Element::rain);
        energy_MJ += series.at(k, Element::global) * 3600.0 / 1e6;
    }
    EXPECT_NEAR(air, 273.15 + 10.7, 1e-5);
    EXPECT_NEAR(rain, 6.4, 1e-9);
    EXPECT_NEAR(energy_MJ, 3.1, 1e-9);
}

TEST(WeatherDays, WhatIsWrongIsTold) {
    const std::string place = "# latitude: 53.1\n# longitude: 8.2\n";
    expect_problem(place + "day,least [°C]\n2031-10-04,5\n", 3, "most");
    expect_problem(place + "day,least [°C],most\n2031-10-04,5,9\n", 3, "does not say the unit");
    expect_problem(place + "day,least [°C],most [°C]\n2031-10-04,5,9\n2031-10-06,5,9\n", 5,
                   "there is no row for 2031-10-05");
    expect_problem(
        place + "day,least [°C],most [°C],rain [mm]\n2031-10-04,5,9,1\n2031-10-05,5,9,\n", 5,
        "rain is missing from 2031-10-05 00:00");
    expect_problem(place + "day,least [°C],most [°C]\n2031-10-04,41,70\n2031-10-05,41,70\n", 4,
                   "look as if they were °F");
    expect_problem("day,least [°C],most [°C]\n2031-10-04,5,9\n", 0, "where this was measured");
    // Somebody else's headings, with ours in their place.
    const auto theirs = read_weather(
        "date,tmin,tmax\n2031-10-04,50,68\n", "w",
        {.latitude_deg = 47.45, .longitude_deg = -122.31, .headings = "day,least [°F],most [°F]"});
    ASSERT_TRUE(theirs) << theirs.problems().front().text();
    EXPECT_EQ(theirs->format, WeatherFormat::days);
    EXPECT_NEAR(theirs->series.at(15, Element::air), 293.15, 0.3);
}

}  // namespace
}  // namespace beetwright::io
