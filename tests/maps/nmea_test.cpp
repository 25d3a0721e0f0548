#include "maps/nmea.hpp"

#include <gtest/gtest.h>

#include "maps/map_checks.hpp"

namespace beetwright::maps {
namespace {

using ground::FixKind;

// The two sentences that every description of NMEA 0183 shows [VC].
const std::string kGga = "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\n";
const std::string kRmc = "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A\n";

/// A sentence with its checksum.
std::string sentence(const std::string& body) {
    unsigned sum = 0;
    for (const char c : body) {
        sum ^= static_cast<unsigned char>(c);
    }
    char written[4];
    std::snprintf(written, sizeof written, "%02X", sum);
    return "$" + body + "*" + written + "\r\n";
}

std::string gga(const std::string& time, const std::string& quality = "4") {
    return sentence("GNGGA," + time + ",5306.0000,N,00812.0000,E," + quality +
                    ",14,0.7,12.34,M,40.1,M,,");
}

std::string rmc(const std::string& time, const std::string& date) {
    return sentence("GNRMC," + time + ",A,5306.0000,N,00812.0000,E,10.0,90.0," + date + ",,,R");
}

TEST(Nmea, TheKnownSentences) {
    const auto track = read_nmea(kGga + kRmc, "log.nmea");
    ASSERT_TRUE(track) << track.problems().front().text();
    ASSERT_EQ(track->fixes.size(), 1U) << "the two are of one instant";
    const auto& fix = track->fixes[0];
    EXPECT_NEAR(fix.position.latitude_deg, 48.1173, 1e-9);
    EXPECT_NEAR(fix.position.longitude_deg, 11.516667, 5e-7);
    EXPECT_EQ(fix.at, *parse_instant("1994-03-23T12:35:19Z")) << "94 is 1994";
    EXPECT_EQ(fix.kind, FixKind::autonomous);
    EXPECT_EQ(fix.satellites, 8);
    EXPECT_DOUBLE_EQ(fix.horizontal_dilution, 0.9);
    EXPECT_DOUBLE_EQ(fix.height_m, 545.4);
    EXPECT_NEAR(fix.speed_m_s, 22.4 * 1852.0 / 3600.0, 1e-12);
    EXPECT_DOUBLE_EQ(fix.course_deg, 84.4);
    EXPECT_EQ(track->heights_over, ground::HeightOver::sea_level);
    EXPECT_TRUE(track->notes.empty());
}

TEST(Nmea, SidesOfTheEarth) {
    const auto track = read_nmea(sentence("GPRMC,080000,A,1700.6000,S,17959.4000,W,,,041031,,") +
                                     sentence("GPRMC,080001,A,1700.6000,S,17959.4000,E,,,041031,,"),
                                 "log");
    ASSERT_TRUE(track) << track.problems().front().text();
    EXPECT_NEAR(track->fixes[0].position.latitude_deg, -17.01, 1e-12);
    EXPECT_NEAR(track->fixes[0].position.longitude_deg, -179.99, 1e-12);
    EXPECT_NEAR(track->fixes[1].position.longitude_deg, 179.99, 1e-12);
    EXPECT_EQ(track->fixes[0].kind, FixKind::unknown) << "old RMC has no mode";
    EXPECT_TRUE(std::isnan(track->fixes[0].speed_m_s));
    EXPECT_EQ(track->heights_over, ground::HeightOver::unknown);
}

TEST(Nmea, YearsOfTwoDigits) {
    for (const auto& [written, year] :
         {std::pair{"80", 1980}, {"99", 1999}, {"00", 2000}, {"31", 2031}, {"79", 2079}}) {
        const auto track = read_nmea(rmc("080000", std::string("0410") + written), "log");
        ASSERT_TRUE(track);
        EXPECT_EQ(std::chrono::floor<std::chrono::days>(track->fixes[0].at), *day_of(year, 10, 4));
    }
}

TEST(Nmea, QualitiesBecomeKindsOfFixes) {
    std::string text;
    for (int quality = 0; quality <= 9; ++quality) {
        text += gga("08000" + std::to_string(quality), std::to_string(quality));
    }
    const auto track = read_nmea(text, "log", *parse_day("2031-10-04"));
    ASSERT_TRUE(track) << track.problems().front().text();
    std::vector<FixKind> kinds;
    for (const auto& fix : track->fixes) {
        kinds.push_back(fix.kind);
    }
    EXPECT_EQ(kinds, (std::vector{FixKind::autonomous, FixKind::differential, FixKind::autonomous,
                                  FixKind::fixed_phase, FixKind::float_phase, FixKind::estimated,
                                  FixKind::unknown}));
    expect_note(track->notes, "1 instant passed over: the receiver had no position");
    expect_note(track->notes, "2 instants passed over: positions that were typed in");
}

TEST(Nmea, MidnightIsCrossedEitherWay) {
    // The only date comes after midnight; before it and after the next it is reckoned.
    const auto track = read_nmea(gga("235959.50") + gga("000000.00") + rmc("000000.50", "051031") +
                                     gga("120000") + gga("235959.75") + gga("000000.25"),
                                 "log");
    ASSERT_TRUE(track) << track.problems().front().text();
    ASSERT_EQ(track->fixes.size(), 6U);
    EXPECT_EQ(to_text(track->fixes[0].at), "2031-10-04T23:59:59.500Z");
    EXPECT_EQ(to_text(track->fixes[1].at), "2031-10-05T00:00:00.000Z");
    EXPECT_EQ(to_text(track->fixes[4].at), "2031-10-05T23:59:59.750Z");
    EXPECT_EQ(to_text(track->fixes[5].at), "2031-10-06T00:00:00.250Z");
    EXPECT_EQ(track->fixes[5].kind, FixKind::fixed_phase);
}

TEST(Nmea, ADayIsBelievedWithAPosition) {
    const auto track = read_nmea(
        sentence("GNRMC,000001,V,,,,,,,060180,,,N") + gga("080000") + rmc("080000", "041031"),
        "log");
    ASSERT_TRUE(track) << track.problems().front().text();
    ASSERT_EQ(track->fixes.size(), 1U);
    EXPECT_EQ(to_text(track->fixes[0].at), "2031-10-04T08:00:00.000Z");
    expect_note(track->notes, "1 instant passed over: the receiver had no position");
}

TEST(Nmea, InstantsThatInterlockAreJoined) {
    const auto track = read_nmea(
        gga("080000.0") + gga("080000.1") + rmc("080000.0", "041031") + rmc("080000.1", "041031"),
        "log");
    ASSERT_TRUE(track);
    ASSERT_EQ(track->fixes.size(), 2U);
    EXPECT_NEAR(track->fixes[0].speed_m_s, 10.0 * 1852.0 / 3600.0, 1e-12);
    EXPECT_DOUBLE_EQ(track->fixes[1].height_m, 12.34);
}

TEST(Nmea, AFewDamagedLinesAreCounted) {
    auto damaged = kGga;
    damaged[20] = '9';
    const auto track = read_nmea("a log\n" + kGga + kRmc + damaged + "12:35 " + gga("123520") +
                                     "$GPGGA,1235" + rmc("123521", "230394") +
                                     "$PMINE,1,2\n$GPGSV,3,1\n" + sentence("GPGSA,A,3,04"),
                                 "log");
    ASSERT_TRUE(track) << track.problems().front().text();
    EXPECT_EQ(track->fixes.size(), 3U);
    ASSERT_EQ(track->notes.size(), 1U);
    expect_note(track->notes,
                "3 of 9 sentences damaged and passed over, the first in line 4: the "
                "checksum of what stands here is");
}

TEST(Nmea, MostlyDamagedIsRefusedByLine) {
    const auto cut = [](std::string text) { return text.substr(0, text.find('*')) + "\n"; };
    const auto track = read_nmea(cut(kGga) + cut(kRmc) + kGga, "log");
    expect_problem(track, "checksum: the sentence has no checksum", 1);
    expect_problem(track, "checksum: the sentence has no checksum", 2);
    auto changed = kRmc;
    changed[7] = '2';  // for 1: by two bits, as the sum then is
    expect_problem(read_nmea(changed, "log"), "is 69, not 6A", 1);
}

TEST(Nmea, FieldsThatAreNoneAreDamageToo) {
    const auto alone = [](const std::string& body) { return read_nmea(sentence(body), "log"); };
    expect_problem(alone("GPGGA,123519,4860.0,N,01131.0,E,1,08,0.9,5.4,M,,M,,"),
                   "latitude: '4860.0' is no latitude", 1);
    expect_problem(alone("GPGGA,123519,4807.0,N,18131.0,E,1,08,0.9,5.4,M,,M,,"),
                   "longitude: '18131.0' is no longitude", 1);
    expect_problem(alone("GPGGA,123519,4807.0,X,01131.0,E,1,08,0.9,5.4,M,,M,,"), "with N or S", 1);
    expect_problem(alone("GPGGA,253519,4807.0,N,01131.0,E,1,08,0.9,5.4,M,,M,,"), "hhmmss", 1);
    expect_problem(alone("GPGGA,123519,4807.0,N,01131.0,E,,08,0.9,5.4,M,,M,,"), "quality", 1);
    expect_problem(alone("GPGGA,123519,4807.0,N,01131.0,E,1,08,0.9,5.4,F,,M,,"), "metres", 1);
    expect_problem(alone("GPGGA,123519,4807.0,N,01131.0,E,1,08,0.9,1e3,M,,M,,"), "height", 1);
    expect_problem(alone("GPRMC,123519,A,4807.0,N,01131.0,E,1,2,310231,,"), "ddmmyy", 1);
}

TEST(Nmea, WhatIsNotSaid) {
    expect_problem(read_nmea("", "log"), "no sentence of GGA or RMC");
    expect_problem(read_nmea("at,latitude\n", "log"), "no sentence of GGA or RMC");
    expect_problem(read_nmea(kGga, "log"), "does not say of which day");
    expect_problem(read_nmea(sentence("GPRMC,123519,V,,,,,,,041031,,"), "log"),
                   "no position anywhere");
    EXPECT_TRUE(looks_like_nmea("12:00 " + kGga));
    EXPECT_FALSE(looks_like_nmea("price [$/t],name\n"));
}

}  // namespace
}  // namespace beetwright::maps
