// Looks at standing crops: before the beets are lifted, and samples of what is true.
#include "demo_season/standing.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "crop/crown_heights.hpp"
#include "demo_season/invent.hpp"

namespace beetwright::demo {
namespace {

Invented season_of(std::uint64_t seed, UnitSystem units = UnitSystem::metric) {
    return invent(seed, units, loss_physics(Catalogue{}));
}

TEST(DemoStanding, IsSeenBeforeTheBeetsAreLifted) {
    const auto season = season_of(3).season;
    std::map<std::string, Day> lifted;
    for (const auto& field : season.fields) {
        lifted[field.name] = field.lifted.value_or((kToldOn + 1).on(kFirstDay));
    }
    const Day august = std::chrono::year_month_day{std::chrono::year{2031}, std::chrono::August,
                                                   std::chrono::day{15}};
    for (const auto& look : season.standing) {
        EXPECT_LT(look.at, Instant(lifted.at(look.field))) << look.field;
        EXPECT_GE(look.at, Instant(august));
        EXPECT_EQ(look.crowns.empty(), look.roots.is_known()) << "a dig, or heights";
    }
}

TEST(DemoStanding, DiggingsGrowAndAreRightOnAverage) {
    double more_roots = 0.0, more_pol = 0.0, over_standing = 0.0, over_lifted_pol = 0.0;
    double n = 0.0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        const auto invented = season_of(seed);
        for (std::size_t i = 0; i < invented.truth.size(); ++i) {
            const auto& truth = invented.truth[i];
            const Look look{.plan = field_plans()[i], .truth = truth, .seed = seed};
            const auto august = observed_standing(look, Visit::august);
            const auto september = observed_standing(look, Visit::september);
            more_roots += (september.roots / september.area - august.roots / august.area).si();
            more_pol += (september.pol - august.pol).si();
            over_standing += (september.roots / september.area) / truth.standing;
            over_lifted_pol += (truth.pol - september.pol).si();
            n += 1.0;
        }
    }
    // 960 pairs of means of four to six spots: 20 % of some 75 t/ha over two roots, times the root
    // of two, over the root of 960 is 0.4 t/ha; four and a half of them.
    EXPECT_NEAR(10.0 * more_roots / n, 50.0 * (0.43 - 0.02), 1.8);
    // 0.7 % of pol likewise: 0.02 %. From 2 to 32 days of the 84 that it rises.
    EXPECT_NEAR(100.0 * more_pol / n, 1.3 * (0.61 - 0.035), 0.1);
    EXPECT_GT(over_standing / n, 0.75) << "a month or more before lifting it is less";
    EXPECT_LT(over_standing / n, 1.10);
    EXPECT_GT(100.0 * over_lifted_pol / n, 0.2);
}

TEST(DemoStanding, CrownsAreAsTheTruthHasThem) {
    const auto invented = season_of(11);
    int missed = 0;
    for (std::size_t i = 0; i < invented.truth.size(); ++i) {
        const auto& truth = invented.truth[i];
        const Look look{.plan = field_plans()[i], .truth = truth, .seed = 11};
        const auto seen = observed_standing(look, Visit::before_lifting);
        ASSERT_EQ(seen.crowns.size(), 20U);
        const auto crowns = crop::crown_heights(seen.crowns, Catalogue{});
        ASSERT_TRUE(crowns.ok());
        missed += truth.crown_height < crowns->mean.low || truth.crown_height > crowns->mean.high;
    }
    // 24 intervals of 90 %: more than 8 missed has a chance of 1 in 2,000.
    EXPECT_LE(missed, 8);
}

TEST(DemoStanding, LeafTellsTheStory) {
    const auto season = season_of(1).season;
    int judged = 0, frozen = 0;
    for (const auto& look : season.standing) {
        judged += std::isnan(look.leaf_sick) ? 0 : 1;
        frozen += look.leaf_frozen == check::Seen::yes ? 1 : 0;
        if (look.field == "Fox Spinney" && !std::isnan(look.leaf_sick)) {
            EXPECT_NEAR(look.leaf_sick, 0.5, 1e-15);
        }
    }
    EXPECT_EQ(judged, 24);
    // Lifted three days and more after the frost began on campaign day 63: days 69, 71, 78 and 81.
    EXPECT_EQ(frozen, 4);
}

}  // namespace
}  // namespace beetwright::demo
