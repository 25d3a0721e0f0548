#include "ground/cleaning.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "driven.hpp"
#include "ground/passes.hpp"

namespace beetwright::ground {
namespace {

Cleaned cleaned(const Track& track) {
    const auto plane = plane_of(track);
    EXPECT_TRUE(plane.ok());
    auto result = clean(track, *plane);
    EXPECT_TRUE(result.ok()) << (result.ok() ? "" : result.problems().front().text());
    return std::move(result.value());
}

TEST(Cleaning, PassesTheirDirectionAndSpacingAreThoseDriven) {
    for (const double direction : {0.0, 0.3, 1.5, 2.8}) {
        Drive how;
        how.direction_rad = direction;
        const auto seen = cleaned(driven(how));
        EXPECT_EQ(seen.passes.size(), 83U);
        EXPECT_NEAR(std::remainder(seen.direction_rad - direction, M_PI), 0.0, 1e-3);
        EXPECT_NEAR(seen.spacing_m, 3.0, 0.02);
        EXPECT_NEAR(seen.speed_m_s, 1.8, 0.02);
        EXPECT_TRUE(seen.notes.empty()) << seen.notes.front();
        for (const auto& pass : seen.passes) {
            EXPECT_NEAR(pass.length_m, 400.0, 8.0);
        }
    }
}

TEST(Cleaning, PassesThatCoverEachOtherOverlapByAsMuch) {
    Drive how;
    how.spacing_m = 2.4;
    const auto seen = cleaned(driven(how));
    EXPECT_NEAR(overlap_of(seen.gaps_m, 3.0), 0.2, 0.01);
    EXPECT_NEAR(overlap_of(seen.gaps_m, 2.0), 0.0, 0.01);
}

TEST(Cleaning, WhatCannotBeIsLeftOutAndCounted) {
    auto track = driven({});
    const auto whole = cleaned(track).samples.size();
    track.fixes[100].height_m += 12.0;  // a spike
    track.fixes[200].height_m -= 3.0;
    track.fixes[300].kind = FixKind::none;  // lost
    track.fixes[301].position = {0.0, 0.0};
    track.fixes[400].position.latitude_deg *= -1.0;   // the other hemisphere
    track.fixes[500].position.longitude_deg += 0.01;  // 740 m beside
    const auto seen = cleaned(track);
    EXPECT_EQ(seen.samples.size(), whole - 4);  // of two the height alone
    ASSERT_EQ(seen.notes.size(), 4U);
    EXPECT_EQ(seen.notes[0], "2 records without a fix were left out");
    EXPECT_EQ(
        seen.notes[1],
        "1 records more than 20 km from the rest were left out: a mistyped or damaged position");
    EXPECT_EQ(seen.notes[2], "1 records that leap faster than 72 km/h were left out");
    EXPECT_EQ(seen.notes[3], "2 heights unlike those beside them were left out");
    EXPECT_EQ(seen.passes.size(), 83U);
}

TEST(Cleaning, SteepGroundIsNoSpike) {
    Drive how;
    how.height = [](const Point& at) { return 150.0 + 0.25 * at.east_m; };
    EXPECT_TRUE(cleaned(driven(how)).notes.empty());
}

TEST(Cleaning, AMachineThatStandsIsSeenOnce) {
    auto track = driven({});
    const auto whole = cleaned(track).samples.size();
    const auto here = track.fixes[1000];
    for (std::size_t i = 1000; i < track.fixes.size(); ++i) {
        track.fixes[i].at += std::chrono::minutes(30);
    }
    for (int minute = 0; minute < 30; ++minute) {
        auto again = here;
        again.at += std::chrono::minutes(minute);
        track.fixes.insert(track.fixes.begin() + 1000 + minute, again);
    }
    const auto seen = cleaned(track);
    EXPECT_NEAR(static_cast<double>(seen.samples.size()), static_cast<double>(whole), 1.0);
    EXPECT_EQ(seen.passes.size(), 84U);  // the one that was broken off is two
}

TEST(Cleaning, ALogWithoutAFixSaysSo) {
    auto track = driven({});
    for (auto& fix : track.fixes) {
        fix.kind = FixKind::none;
    }
    const auto plane = plane_of(track);
    ASSERT_FALSE(plane.ok());
    EXPECT_EQ(plane.problems().front().where.file, "drive.csv");
    EXPECT_NE(plane.problems().front().what.find("has a fix"), std::string::npos);
}

TEST(Cleaning, ALogThatIsMostlyDamagedIsRefusedWithTheCounts) {
    auto track = driven({});
    for (std::size_t i = 0; i < track.fixes.size(); ++i) {
        if (i % 5 < 3) {
            track.fixes[i].kind = FixKind::none;
        }
    }
    const auto plane = plane_of(track);
    ASSERT_TRUE(plane.ok());
    const auto seen = clean(track, *plane);
    ASSERT_FALSE(seen.ok());
    EXPECT_NE(seen.problems().front().what.find("have no fix"), std::string::npos);
}

TEST(Cleaning, AFieldOnTheAntimeridianIsLikeAnyOther) {
    Drive how;
    how.middle = {52.0, 180.0};
    EXPECT_EQ(cleaned(driven(how)).passes.size(), 83U);
}

}  // namespace
}  // namespace beetwright::ground
