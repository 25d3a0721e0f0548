#include "base/time.hpp"

#include <gtest/gtest.h>

#include "base/random.hpp"
#include "base/uuid.hpp"

namespace beetwright {
namespace {

using std::chrono::days;
using std::chrono::hours;
using std::chrono::milliseconds;
using std::chrono::minutes;

TEST(Time, ReadsCalendarDays) {
    // 1970-01-01 is day 0; 2000-03-01 is day 11,017 (30 years of 365 days, 7 leap days to 1996, 31
    // + 29 days).
    EXPECT_EQ(parse_day("1970-01-01"), Day(days(0)));
    EXPECT_EQ(parse_day("2000-03-01"), Day(days(30 * 365 + 7 + 31 + 29)));
}

TEST(Time, RefusesDaysThatDoNotExist) {
    for (const char* text : {"2031-02-29", "2031-13-01", "2031-00-10", "2031-04-31", "2031-4-1",
                             "31-04-01", "2031/04/01", "2031-04-01 ", "", "2031-04-01T00:00Z"}) {
        EXPECT_FALSE(parse_day(text).has_value()) << text;
    }
    EXPECT_TRUE(parse_day("2032-02-29").has_value());
    EXPECT_FALSE(parse_day("2100-02-29").has_value());
}

// RFC 3339 section 5.8: examples of instants and the same in UTC.
TEST(Time, ReadsInstantsWithOffsets) {
    EXPECT_EQ(to_text(*parse_instant("1985-04-12T23:20:50.52Z")), "1985-04-12T23:20:50.520Z");
    EXPECT_EQ(to_text(*parse_instant("1996-12-19T16:39:57-08:00")), "1996-12-20T00:39:57.000Z");
    EXPECT_EQ(to_text(*parse_instant("1937-01-01T12:00:27.87+00:20")), "1937-01-01T11:40:27.870Z");
    EXPECT_EQ(to_text(*parse_instant("2031-10-04T07:45+02:00")), "2031-10-04T05:45:00.000Z");
}

TEST(Time, RefusesWhatIsNotAnInstant) {
    for (const char* text :
         {"2031-10-04T07:45", "2031-10-04 07:45Z", "2031-10-04T24:00Z", "2031-10-04T07:60Z",
          "2031-10-04T07:45:60Z", "2031-10-04T07:45:00.Z", "2031-10-04T07:45Zx", "2031-10-04"}) {
        EXPECT_FALSE(parse_instant(text).has_value()) << text;
    }
}

TEST(Time, RoundTripsEveryInstant) {
    RandomStream random(1, "instants");
    for (int i = 0; i < 2000; ++i) {
        const Instant instant(
            milliseconds(static_cast<std::int64_t>(random.word64() % 4102444800000U)));
        EXPECT_EQ(parse_instant(to_text(instant)), instant);
    }
}

TEST(CampaignDay, CountsFromTheFirstDay) {
    const Day first = *parse_day("2031-09-15");
    const CampaignDay october(first, *parse_day("2031-10-01"));
    EXPECT_EQ(october.number(), 16);
    EXPECT_EQ(to_text((october + 20).on(first)), "2031-10-21");
    EXPECT_EQ(october - CampaignDay(6), 10);
}

// RFC 9562 appendix A.6: 2022-02-22T19:22:22.000Z (0x017F22E279B0), random a 0xCC3, random b
// 0x18C4DC0C0C07398F without its variant bits.
TEST(Uuid, Version7IsLaidOutAsTheStandardHasIt) {
    const auto made = parse_instant("2022-02-22T19:22:22.000Z");
    ASSERT_TRUE(made);
    EXPECT_EQ(made->time_since_epoch().count(), 0x017F22E279B0);
    const auto id = Uuid::version7(*made, 0x0CC3, 0x18C4DC0C0C07398F);
    EXPECT_EQ(id.text(), "017f22e2-79b0-7cc3-98c4-dc0c0c07398f");
    EXPECT_EQ(id.version(), 7);
    EXPECT_EQ(Uuid::parse("017F22E2-79B0-7CC3-98C4-DC0C0C07398F"), id);
}

TEST(Uuid, SortsByWhenItWasMade) {
    const Instant early(milliseconds(1'700'000'000'000));
    const auto first = Uuid::version7(early, ~0ULL, ~0ULL);
    const auto second = Uuid::version7(early + milliseconds(1), 0, 0);
    EXPECT_LT(first, second);
}

TEST(Uuid, OfTextIsAFunctionOfTheTextAlone) {
    EXPECT_EQ(Uuid::from_text("a row"), Uuid::from_text("a row"));
    EXPECT_NE(Uuid::from_text("a row"), Uuid::from_text("a roW"));
    EXPECT_EQ(Uuid::from_text("").version(), 8);
    EXPECT_EQ(Uuid::from_text("x").bytes()[8] >> 6U, 2);
}

TEST(Uuid, RefusesWhatIsNotOne) {
    for (const char* text :
         {"", "017f22e2-79b0-7cc3-98c4-dc0c0c07398", "017f22e2x79b0-7cc3-98c4-dc0c0c07398f",
          "017f22e2-79b0-7cc3-98c4-dc0c0c07398g", "017f22e279b07cc398c4dc0c0c07398f"}) {
        EXPECT_FALSE(Uuid::parse(text).has_value()) << text;
    }
}

}  // namespace
}  // namespace beetwright
