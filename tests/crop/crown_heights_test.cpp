// Crown heights: intervals against tables, coverage, and what a knife does.
#include "crop/crown_heights.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "base/random.hpp"

namespace beetwright::crop {
namespace {

const Catalogue kCatalogue;

std::vector<Length> in_mm(const std::vector<double>& heights) {
    std::vector<Length> lengths;
    for (const double height : heights) {
        lengths.push_back(height * unit::mm);
    }
    return lengths;
}
CrownHeights of(const std::vector<Length>& heights) {
    const auto crowns = crown_heights(heights, kCatalogue);
    EXPECT_TRUE(crowns.ok());
    return *crowns;
}
/// `n` heights of mean 50 mm and exactly this standard deviation: half below, half above.
std::vector<Length> two_heights(int n, double sd_mm) {
    const double off = sd_mm * std::sqrt((n - 1.0) / n);
    std::vector<double> heights;
    for (int i = 0; i < n; ++i) {
        heights.push_back(50.0 + (i % 2 == 0 ? off : -off));
    }
    return in_mm(heights);
}

// Printed tables, 19 degrees of freedom: t(0.95) = 1.729; chi-squared 10.117 (0.05), 30.144 (0.95).
TEST(CrownHeights, IntervalsOfTwentyBeetsByTheTables) {
    const auto crowns = of(two_heights(20, 20.0));
    EXPECT_NEAR(crowns.mean.value / unit::mm, 50.0, 1e-9);
    EXPECT_NEAR(crowns.sd.value / unit::mm, 20.0, 1e-9);
    EXPECT_NEAR((crowns.mean.high - crowns.mean.value) / unit::mm, 1.729 * 20.0 / std::sqrt(20.0),
                0.003);
    EXPECT_NEAR(crowns.sd.low / unit::mm, 20.0 * std::sqrt(19.0 / 30.144), 0.001);
    EXPECT_NEAR(crowns.sd.high / unit::mm, 20.0 * std::sqrt(19.0 / 10.117), 0.001);
}

TEST(CrownHeights, AreEvenFairOrUnevenByTheirSpread) {
    EXPECT_EQ(of(two_heights(20, 8.0)).likeliest, Evenness::even);
    EXPECT_EQ(of(two_heights(20, 19.0)).likeliest, Evenness::fair);
    EXPECT_EQ(of(two_heights(20, 40.0)).likeliest, Evenness::uneven);
    // Twenty beets with a spread at the limit leave it open: chi-squared's median is near its mean.
    const auto at_limit = of(two_heights(20, 15.0));
    EXPECT_NEAR(at_limit.even, 0.46, 0.02);
    for (const double sd : {8.0, 15.0, 19.0, 25.0, 40.0}) {
        const auto crowns = of(two_heights(20, sd));
        EXPECT_NEAR(crowns.even + crowns.fair + crowns.uneven, 1.0, 1e-12);
        EXPECT_GE(std::min({crowns.even, crowns.fair, crowns.uneven}), 0.0);
    }
    EXPECT_GT(of(two_heights(200, 19.0)).fair, of(two_heights(20, 19.0)).fair);
    EXPECT_EQ(words(Evenness::uneven), "uneven");
}

// A knife at the mean leaves half untouched; what is left falls to the other two. Student's table:
// P(t19 > 1.729) = 0.05.
TEST(Knife, SharesAreStudentsForTheNextBeet) {
    const auto crowns = of(two_heights(20, 20.0));
    const Length reach = 1.729 * std::sqrt(1.0 + 1.0 / 20.0) * 20.0 * unit::mm;
    const auto shares = knife_shares(crowns, 50.0 * unit::mm, reach);
    EXPECT_NEAR(shares.untouched, 0.5, 1e-9);
    EXPECT_NEAR(shares.too_deep, 0.05, 1e-4);
    EXPECT_NEAR(shares.good, 0.45, 1e-4);
    const auto lower = knife_shares(crowns, 30.0 * unit::mm, reach);
    EXPECT_LT(lower.untouched, shares.untouched);
    EXPECT_GT(lower.too_deep, shares.too_deep);
}

// 4,000 stands of 20 beets, true mean 60 mm, spread 18 mm, seed 80: standard error of a coverage of
// 90 %, 0.47 %; four of them.
TEST(CrownHeights, IntervalsHoldTheTruthNineTimesInTen) {
    constexpr int kStands = 4000;
    int mean_held = 0, sd_held = 0;
    double below = 0.0;
    for (std::uint64_t stand = 0; stand < kStands; ++stand) {
        RandomStream random(80, "crowns", stand);
        std::vector<double> heights(20);
        for (double& height : heights) {
            height = 60.0 + 18.0 * random.normal();
        }
        const auto crowns = of(in_mm(heights));
        mean_held += crowns.mean.low / unit::mm <= 60.0 && 60.0 <= crowns.mean.high / unit::mm;
        sd_held += crowns.sd.low / unit::mm <= 18.0 && 18.0 <= crowns.sd.high / unit::mm;
        // The next beet is below a knife as often as told.
        const Length knife = 45.0 * unit::mm;
        const double next = 60.0 + 18.0 * random.normal();
        below += (next < 45.0 ? 1.0 : 0.0) - knife_shares(crowns, knife, 30.0 * unit::mm).untouched;
    }
    EXPECT_NEAR(1.0 * mean_held / kStands, 0.90, 0.019);
    EXPECT_NEAR(1.0 * sd_held / kStands, 0.90, 0.019);
    EXPECT_NEAR(below / kStands, 0.0, 4.0 * 0.41 / std::sqrt(1.0 * kStands));
}

TEST(CrownHeights, RefuseWhatSaysNothing) {
    const auto problems = [](const std::vector<double>& heights) {
        const auto crowns = crown_heights(in_mm(heights), kCatalogue);
        return crowns.ok() ? std::string() : crowns.problems().front().text();
    };
    EXPECT_NE(problems({50, 60}).find("2 beets say too little"), std::string::npos);
    EXPECT_NE(problems({50, 60, 55, 5000, 45}).find("beet 4"), std::string::npos);
    EXPECT_NE(problems({50, 50, 50, 50, 50}).find("one height"), std::string::npos);
    EXPECT_EQ(problems({50, 60, 55, 52, 45}), "");
}

}  // namespace
}  // namespace beetwright::crop
