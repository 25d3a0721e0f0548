#include <gtest/gtest.h>

#include <cmath>

#include "maps/iso11783_read.hpp"
#include "task_data.hpp"

namespace beetwright::maps {
namespace {

constexpr const char* kShort = "<PTN A=\"\" B=\"\" D=\"\"/>";
constexpr const char* kWhole =
    "<PTN A=\"\" B=\"\" C=\"\" D=\"\" E=\"\" F=\"\" G=\"\" H=\"\" I=\"\"/>";
constexpr const char* kValues =
    "<DLV A=\"018D\" B=\"\" C=\"DET-1\"/><DLV A=\"0054\" B=\"\" C=\"DET-1\"/>"
    "<DLV A=\"008D\" B=\"\" C=\"DET-2\"/><DLV A=\"008D\" B=\"\" C=\"DET-3\"/>"
    "<DLV A=\"0074\" B=\"\" C=\"DET-1\"/><DLV A=\"DFFE\" B=\"\" C=\"DET-1\"/>";

// 4 October 2031: 51 years of 365 days, 13 leap days, 276 days into the year.
constexpr int kDay = 51 * 365 + 13 + 276;
constexpr std::int64_t kHour_ms = 3'600'000;
constexpr std::int64_t kMorning_ms = 7 * kHour_ms + 250;
constexpr std::int64_t kFive_ms = 5 * kHour_ms;

ground::Track track_of(const std::vector<NamedFile>& files, const TaskDataFacts& facts = {}) {
    const auto reading = read_task_data(files, facts);
    EXPECT_TRUE(reading.ok());
    if (!reading) {
        ADD_FAILURE() << reading.problems().front().text();
        return {};
    }
    EXPECT_EQ(reading->tasks.size(), 1U);
    EXPECT_EQ(reading->tasks.at(0).logs.size(), 1U);
    return reading->tasks[0].logs.empty() ? ground::Track{} : reading->tasks[0].logs[0];
}

std::string refusal(const std::vector<NamedFile>& files) {
    const auto reading = read_task_data(files);
    EXPECT_FALSE(reading.ok());
    return reading.ok() ? "" : reading.problems().front().text();
}

/// A record of kShort with these values.
RecordBytes& record(RecordBytes& bytes, double north, double east, int status,
                    const std::vector<std::pair<int, std::int64_t>>& values = {}) {
    return bytes.time(kMorning_ms, kDay)
        .degrees(north)
        .degrees(east)
        .number(1, status)
        .values(values);
}

TEST(TimeLog, HasFixesWithAllThatRecordsHold) {
    RecordBytes bytes;
    bytes.time(kMorning_ms, kDay)
        .degrees(53.1234567)
        .degrees(-8.7654321)
        .number(4, -1234)
        .number(1, 4)
        .number(2, 18)
        .number(2, 9)
        .number(1, 11)
        .number(4, kFive_ms)
        .number(2, kDay)
        .values({{0, 1389}, {1, 7'000'000}});
    const auto track = track_of(task_with_log(kWhole + std::string(kValues), bytes.text()));
    EXPECT_EQ(track.name, "Lifting, TLG00001");
    EXPECT_EQ(track.heights_over, ground::HeightOver::unknown);
    ASSERT_EQ(track.fixes.size(), 1U);
    const auto& fix = track.fixes[0];
    const ground::Position position{53.1234567, -8.7654321};  // whole ten-millionths: exactly so
    EXPECT_EQ(fix.position, position);
    EXPECT_EQ(to_text(fix.at), "2031-10-04T05:00:00.000Z");  // the receiver's time
    EXPECT_DOUBLE_EQ(fix.height_m, -1.234);
    EXPECT_EQ(fix.kind, ground::FixKind::fixed_phase);
    EXPECT_EQ(fix.satellites, 11);
    EXPECT_DOUBLE_EQ(fix.horizontal_dilution, 0.9);
    EXPECT_DOUBLE_EQ(fix.speed_m_s, 1.389);
    EXPECT_DOUBLE_EQ(fix.yield_kg_m2, 7.0);  // 70 t/ha
    EXPECT_TRUE(std::isnan(fix.course_deg));
    EXPECT_TRUE(fix.works);
    EXPECT_EQ(track.notes, std::vector<std::string>{"what heights are counted from is not said"});
}

TEST(TimeLog, WhatIsNotKnownIsNotSaid) {
    RecordBytes bytes;
    bytes.time(kMorning_ms, kDay)
        .degrees(53.0)
        .degrees(8.0)
        .number(4, 0x7fffffff)
        .number(1, 15)
        .number(2, 0xffff)
        .number(2, 0xffff)
        .number(1, 0xff)
        .number(4, 0xffffffff)
        .number(2, 0xffff)
        .values({});
    const auto track = track_of(task_with_log(kWhole, bytes.text()));
    ASSERT_EQ(track.fixes.size(), 1U);
    const auto& fix = track.fixes[0];
    EXPECT_TRUE(std::isnan(fix.height_m));
    EXPECT_EQ(fix.kind, ground::FixKind::unknown);
    EXPECT_EQ(fix.satellites, -1);
    EXPECT_TRUE(std::isnan(fix.horizontal_dilution));
    EXPECT_TRUE(std::isnan(fix.speed_m_s));
    EXPECT_TRUE(std::isnan(fix.yield_kg_m2));
    EXPECT_EQ(to_text(fix.at), "2031-10-04T07:00:00.250Z");
}

TEST(TimeLog, TheClockIsTheTerminalsWhereTheReceiversIsFarOff) {
    const auto header = "<PTN A=\"\" B=\"\" D=\"\" H=\"\" I=\"\"/>";
    RecordBytes bytes;
    const auto add = [&](std::int64_t ms, int day) {
        bytes.time(kMorning_ms, kDay).degrees(53.0).degrees(8.0).number(1, 1);
        bytes.number(4, ms).number(2, day).values({});
    };
    add(kFive_ms + 250, kDay);
    add(kFive_ms + 250, kDay - 1024 * 7);  // receivers count weeks to 1023
    add(0, 0);
    const auto track =
        track_of(task_with_log(header, bytes.text()), {.clock = std::chrono::minutes(120)});
    ASSERT_EQ(track.fixes.size(), 3U);
    for (const auto& fix : track.fixes) {
        EXPECT_EQ(to_text(fix.at), "2031-10-04T05:00:00.250Z");
    }
    EXPECT_EQ(track.notes,
              std::vector<std::string>{"dated by the terminal's clock, taken to be 120 minutes "
                                       "ahead of UTC: 2 of 3 records"});
}

TEST(TimeLog, KindsOfFixAreTold) {
    using enum ground::FixKind;
    constexpr std::array kKinds{
        none, autonomous, differential, differential, fixed_phase, float_phase, estimated, none,
        none, unknown,    unknown,      unknown,      unknown,     unknown,     none,      unknown};
    RecordBytes bytes;
    for (int status = 0; status < 16; ++status) {
        record(bytes, 53.0, 8.0, status);
    }
    const auto track = track_of(task_with_log(kShort, bytes.text()));
    ASSERT_EQ(track.fixes.size(), kKinds.size());
    for (std::size_t k = 0; k < kKinds.size(); ++k) {
        EXPECT_EQ(track.fixes[k].kind, kKinds[k]) << k;
    }
    EXPECT_EQ(track.notes.at(0), "positions typed in or simulated: 2 of 16 records");
}

TEST(TimeLog, RecordsWithoutAFixAreLeftOutAndCounted) {
    RecordBytes bytes;
    record(bytes, 0.0, 0.0, 1);
    record(bytes, 53.0, 8.0, 1);
    record(bytes, 53.0, 0.0, 1);  // on the meridian of Greenwich, and well known
    bytes.time(kMorning_ms, kDay).number(4, 0x7fffffff).number(4, 0x7fffffff).number(1, 0);
    bytes.values({});
    const auto track = track_of(task_with_log(kShort, bytes.text()));
    EXPECT_EQ(track.fixes.size(), 2U);
    EXPECT_EQ(track.notes.at(0), "left out for want of a position: 2 of 4 records");
}

TEST(TimeLog, WorkHoldsUntilItIsSaidAgain) {
    RecordBytes bytes;
    const std::vector<std::pair<std::vector<std::pair<int, std::int64_t>>, bool>> steps{
        {{}, true},         // nothing is said yet
        {{{2, 0}}, false},  // one part stands
        {{{3, 1}}, true},   // the other works
        {{}, true},
        {{{3, 0}}, false},
        {{{2, 1}}, true},
        {{{2, 2}}, false},         // an error there, and the other stands
        {{{2, 3}, {3, 3}}, true},  // neither is known
    };
    for (const auto& [values, works] : steps) {
        record(bytes, 53.0, 8.0, 1, values);
    }
    const auto track = track_of(task_with_log(kShort + std::string(kValues), bytes.text()));
    ASSERT_EQ(track.fixes.size(), steps.size());
    for (std::size_t k = 0; k < steps.size(); ++k) {
        EXPECT_EQ(track.fixes[k].works, steps[k].second) << k;
    }
}

TEST(TimeLog, ValuesThatAreNotUsedAreCounted) {
    RecordBytes bytes;
    record(bytes, 53.0, 8.0, 1, {{4, 10}, {5, 1}, {0, -1}});
    record(bytes, 53.0, 8.0, 1, {{4, 11}});
    const auto track = track_of(task_with_log(kShort + std::string(kValues), bytes.text()));
    ASSERT_EQ(track.fixes.size(), 2U);
    EXPECT_TRUE(std::isnan(track.fixes[0].speed_m_s));  // no machine drives at less than nothing
    EXPECT_EQ(track.notes.back(),
              "values that are not used here: DDI 116 (total area) 2 times, DDI 57342 1 time");
}

TEST(TimeLog, WhatTheHeaderSaysHoldsForEveryRecord) {
    RecordBytes bytes;
    bytes.time(kMorning_ms, kDay).degrees(8.5).values({});
    bytes.time(kMorning_ms, kDay).degrees(8.6).values({});
    const auto track = track_of(task_with_log(
        "<PTN A=\"53.25\" B=\"\" C=\"1500\" D=\"4\" F=\"1.2\" G=\"9\"/>", bytes.text()));
    ASSERT_EQ(track.fixes.size(), 2U);
    const ground::Position second{53.25, 8.6};
    EXPECT_EQ(track.fixes[1].position, second);
    EXPECT_DOUBLE_EQ(track.fixes[1].height_m, 1.5);
    EXPECT_EQ(track.fixes[1].kind, ground::FixKind::fixed_phase);
    EXPECT_DOUBLE_EQ(track.fixes[1].horizontal_dilution, 1.2);
    EXPECT_EQ(track.fixes[1].satellites, 9);
}

TEST(TimeLog, EveryCutIsNoticedWithItsRecord) {
    RecordBytes bytes;
    record(bytes, 53.0, 8.0, 1, {{0, 1}});
    const auto length = bytes.text().size();
    record(bytes, 53.1, 8.0, 1, {{0, 1}, {1, 2}});
    const auto header = kShort + std::string(kValues);
    for (std::size_t cut = length + 1; cut < bytes.text().size(); ++cut) {
        const auto text = refusal(task_with_log(header, bytes.text().substr(0, cut)));
        EXPECT_EQ(text,
                  "TASKDATA/TLG00001.BIN, record 2: the file ends within this record, of "
                  "which it has " +
                      std::to_string(cut - length) + (cut - length == 1 ? " byte" : " bytes") +
                      ". copy the file from the terminal again; it was cut off, or "
                      "belongs to another header");
    }
    EXPECT_EQ(track_of(task_with_log(header, bytes.text().substr(0, length))).fixes.size(), 1U);
    // A cut between two records is noticed by the length that the task says.
    const auto said = " B=\"" + std::to_string(bytes.text().size()) + "\"";
    EXPECT_NE(refusal(task_with_log(header, bytes.text().substr(0, length), said))
                  .find("TLG B: TASKDATA/TLG00001.BIN has 21 bytes of 47"),
              std::string::npos);
    EXPECT_EQ(track_of(task_with_log(header, bytes.text(), said)).fixes.size(), 2U);
}

TEST(TimeLog, RecordsThatAreNotOfTheHeaderAreRefused) {
    RecordBytes late;
    late.time(86'400'000, kDay).degrees(53.0).degrees(8.0).number(1, 1).values({});
    EXPECT_NE(refusal(task_with_log(kShort, late.text())).find("record 1: its time, 86400000 ms"),
              std::string::npos);
    RecordBytes away;
    record(away, 53.0, 8.0, 1);
    record(away, 91.0, 8.0, 1);
    EXPECT_NE(refusal(task_with_log(kShort, away.text())).find("record 2: its position is not on"),
              std::string::npos);
    RecordBytes other;
    record(other, 53.0, 8.0, 1, {{6, 1}});
    EXPECT_NE(refusal(task_with_log(kShort + std::string(kValues), other.text()))
                  .find("record 1: it has value 6, counted from 0, of 6 in the header"),
              std::string::npos);
}

TEST(TimeLog, HeadersThatCannotBeReadAreRefused) {
    EXPECT_NE(refusal(task_with_log("<PTN A=\"north\" B=\"\" D=\"\"/>", ""))
                  .find("TLG00001.XML:1, PTN A: 'north' is out of place"),
              std::string::npos);
    EXPECT_NE(refusal(task_with_log("<DLV A=\"\"/>", "")).find("DLV A: it is empty"),
              std::string::npos);
    EXPECT_NE(refusal(task_with_log(kShort + std::string(kShort), "")).find("two positions"),
              std::string::npos);
    auto files = task_with_log(kShort, "");
    files[1].bytes = "<TIM D=\"4\"/>";
    EXPECT_NE(refusal(files).find("TIM A: it must be there and be empty"), std::string::npos);
    files[1].bytes = "<PTN/>";
    EXPECT_NE(refusal(files).find("it begins with TIM"), std::string::npos);
    files.pop_back();
    EXPECT_NE(refusal(files).find("there is no file TASKDATA/TLG00001.BIN"), std::string::npos);
}

TEST(TimeLog, WithoutPositionsItIsNoTrack) {
    RecordBytes bytes;
    bytes.time(kMorning_ms, kDay).values({{0, 1}});
    const auto reading = read_task_data(task_with_log(kValues, bytes.text()));
    ASSERT_TRUE(reading.ok());
    EXPECT_TRUE(reading->tasks.at(0).logs.empty());
    EXPECT_EQ(reading->notes, std::vector<std::string>{"Lifting, TLG00001: its records have no "
                                                       "positions, and are left out"});
    // A log of nothing says nothing.
    const auto nothing = read_task_data(task_with_log(kShort, ""));
    ASSERT_TRUE(nothing.ok());
    EXPECT_TRUE(nothing->notes.empty());
}

}  // namespace
}  // namespace beetwright::maps
