// The lump against what was published: mostly ranges, because the publications are. Sources as
// storage.md and harvest.md name them; see docs/methods/lump.md for what they disagree on.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <vector>

#include "base/estimate.hpp"
#include "pile/loads.hpp"

namespace beetwright::pile {
namespace {

constexpr double kPerGramATonne = 1e6;  // [kg/kg] to [g/t]

struct Band {
    double low, middle, high;
};
/// The 5, 50 and 95 % points of something over 2,000 draws of the constants, seed 21.
template <class Measure>
Band band_of(Measure&& measure) {
    std::vector<double> values(2000);
    for (std::size_t i = 0; i < values.size(); ++i) {
        RandomStream random(21, "published", i);
        values[i] = measure(drawn(random));
    }
    std::ranges::sort(values);
    return {values[100], values[1000], values[1900]};
}
Band loss_band(double celsius, int days, const LumpCondition& beet) {
    return band_of([&](const LumpConstants& c) { return loss_at(celsius, days, beet, c); });
}

// --- breathing ----------------------------------------------------------------------------------

// A healthy, healed beet at 5 °C: LIZ 100, IRBAB 125-150, BISZ 100-200 g/t/d [V].
TEST(LumpPublished, BaseRateAtFiveDegrees) {
    const double g_t_d = central().basal_at_5C * kPerGramATonne;
    EXPECT_GE(g_t_d, 100.0);
    EXPECT_LE(g_t_d, 150.0);
    const auto band = band_of([](const LumpConstants& c) { return c.basal_at_5C; });
    EXPECT_LT(band.low * kPerGramATonne, 100.0);   // LIZ
    EXPECT_GT(band.high * kPerGramATonne, 125.0);  // IRBAB
}

// MSU Extension [V]: breathing doubles per 15 °F (8.33 K), which is 2.30 per 10 K; IRS 2008 and UK
// trials 1997 [V]: doubles per 10 K. BBRO's 3.6 counts rot along.
TEST(LumpPublished, BreathingDoublesInEightToTenDegrees) {
    const auto band = band_of([](const LumpConstants& c) { return c.q10; });
    EXPECT_LT(band.low, 2.0);
    EXPECT_GT(band.high, 2.30);
    const auto c = central();
    EXPECT_NEAR(basal_rate(15.0, c) / basal_rate(5.0, c), c.q10, 1e-12);
}

// --- wounds and their healing -------------------------------------------------------------------

// LIZ [V]: back at the base level after about 100 °C·d. The sheet reads it as 6-14 % left.
TEST(LumpPublished, WoundsAreHealedAfterAHundredDegreeDays) {
    const auto c = central();
    const double left = std::exp(-100.0 / c.healing_time);
    EXPECT_GT(left, 0.06);
    EXPECT_LT(left, 0.14);
    const double extra = c.healing_extra * wounds_of(ordinary()) * left;
    EXPECT_LT(extra, 0.2);
}

// Zandstra and Squire [V]: severely damaged beet breathed four times as much as sound. Severe is
// taken here as twice the ordinary wounds.
TEST(LumpPublished, SeverelyDamagedBeetBreathesUpToFourTimesAsMuchAtFirst) {
    const auto at_first = [](const LumpConstants& c, double wounds) {
        return 1.0 + c.healing_extra * wounds;
    };
    const double severe = 2.0 * wounds_of(ordinary());
    const auto band = band_of([&](const LumpConstants& c) { return at_first(c, severe); });
    EXPECT_LT(band.low, 4.0);
    EXPECT_GT(band.high, 4.0);
    // The sheet's synthesis: one to four base rates more, by damage.
    const double usual = at_first(central(), wounds_of(ordinary()));
    EXPECT_GT(usual, 2.0);
    EXPECT_LT(usual, 4.0);
}

// BISZ [V]: 100-200 g/t/d after the first 24 hours if stored well; hand-lifted to ordinary beet.
TEST(LumpPublished, AHundredToTwoHundredGramsADayAfterTheFirstDay) {
    for (const auto& beet : {lifted_by_hand(), with_wounds(ordinary(), 0.8)}) {
        const double g_t_d = (loss_at(5.0, 31, beet) - loss_at(5.0, 1, beet)) / 30.0 * 1e6;
        EXPECT_GT(g_t_d, 100.0);
        EXPECT_LT(g_t_d, 200.0);
    }
}

// Fugate et al. 2016 [V]: over 28 days abraded roots breathed 52 % more extra at 6 °C than at 12
// °C, because wounds hardly healed there. Degree-days give the direction, not all of the size: a
// healing that stops at about 2 °C would. docs/methods/lump.md says so.
TEST(LumpPublished, WoundsCostMoreInTheColdBecauseTheyHealLater) {
    const auto c = central();
    const double ratio =
        exposure(steady(6.0, 28), c).healing / exposure(steady(12.0, 28), c).healing;
    EXPECT_GT(ratio, 1.1);
    EXPECT_LT(ratio, 1.52);
}

// --- months in the pile -------------------------------------------------------------------------

// KBIVB [V]: about 5 % of the sugar by 300 °C·d, which is 60 d at 5 °C or 30 d at 10 °C; 2-3 % of
// it breathing, about 2 % mould. Breathing alone for 60 d at LIZ's base rate is 3.4 %, so the
// sources disagree on the split; the sum is what is held here.
TEST(LumpPublished, AboutFivePerCentOfSugarByThreeHundredDegreeDays) {
    const auto cool = loss_band(5.0, 60, ordinary());
    const auto mild = loss_band(10.0, 30, ordinary());
    EXPECT_NEAR(0.5 * (cool.middle + mild.middle) / kPol, 0.05, 0.01);
    for (const auto& band : {cool, mild}) {
        EXPECT_LT(band.low / kPol, 0.05);
        EXPECT_GT(band.high / kPol, 0.05);
    }
}

// LIZ, ITB, IRBAB [V]: flat from about 100 to 270-300 °C·d, then rising.
TEST(LumpPublished, LossIsFlatUntilRotSetsIn) {
    const auto c = central();
    const auto rate = [&](double theta) {
        const int day = static_cast<int>(theta / 5.0);
        return loss_at(5.0, day + 1, ordinary(), c) - loss_at(5.0, day, ordinary(), c);
    };
    EXPECT_LT(rate(150.0) / rate(265.0), 1.15);
    EXPECT_GT(rate(0.0), 2.0 * rate(150.0));
    EXPECT_GT(rate(400.0), 1.5 * rate(265.0));
}

// Strausbaugh 2009 [V]: healthy roots, ambient Idaho autumn: 8-17 % of the sugar in 100 d.
TEST(LumpPublished, HealthyRootsLoseEightToSeventeenPerCentInAHundredDays) {
    const auto band = loss_band(5.0, 100, ordinary());
    EXPECT_NEAR(band.low / kPol, 0.08, 0.015);
    EXPECT_NEAR(band.high / kPol, 0.17, 0.02);
}

// UK five-year study on farms (FWI 3 Jan 1997 [V]): 0.125 % of the sugar a day over 124 d was the
// best, 0.15 % usual in well-kept stores. The temperatures are not given; 4-5.5 °C assumed.
TEST(LumpPublished, WellKeptStoresLoseAnEighthOfAPerCentADay) {
    EXPECT_LT(loss_at(4.0, 124, ordinary()) / kPol / 124.0, 0.00125);
    EXPECT_GT(loss_at(5.5, 124, ordinary()) / kPol / 124.0, 0.0015);
}

// IRS 2017 [V]: 6 % soil and 1.1 t/ha of tips: about 150 g/t/d over 75 d. 1.1 of about 75 t/ha is
// 1.5 %, which breaks of 2.1 cm would cost; so somewhat less than the ordinary wounds.
TEST(LumpPublished, AboutAHundredAndFiftyGramsADayOverSeventyFiveDays) {
    const double g_t_d = loss_at(5.0, 75, with_wounds(ordinary(), 0.83)) / 75.0 * 1e6;
    EXPECT_NEAR(g_t_d, 150.0, 10.0);
}

// NBR 609-2009 [V]: the fall in sugar content after gentle lifting was 70 % of that after normal
// lifting. Tip fractures and cracks were "clearly fewer": taken here as a third of the wounds, and
// 120 d at 5 °C, for neither is given. The middle comes out a little higher than published.
TEST(LumpPublished, GentlyLiftedBeetLosesAboutSevenTenths) {
    const auto band = band_of([](const LumpConstants& c) {
        return loss_at(5.0, 120, with_wounds(ordinary(), 1.0 / 3.0), c) /
               loss_at(5.0, 120, ordinary(), c);
    });
    EXPECT_NEAR(band.middle, 0.70, 0.06);
    EXPECT_LT(band.low, 0.70);
    EXPECT_GT(band.high, 0.70);
}

// SBU 2002 [V, Moll 2006]: damaged roots lost twice the sugar of sound ones.
TEST(LumpPublished, DamagedBeetLosesAboutTwiceWhatSoundBeetDoes) {
    const double ratio =
        loss_at(5.0, 90, with_wounds(ordinary(), 2.0)) / loss_at(5.0, 90, lifted_by_hand());
    EXPECT_NEAR(ratio, 2.0, 0.5);
}

// --- frost --------------------------------------------------------------------------------------

// Wyse 1978, read by English [V]: 8/14/39/78/100 % of cells hurt at -1/-2/-3/-4/-5 °C; the logistic
// of the sheet [C] gives 3/14/41/76/94.
TEST(LumpPublished, FrostDamageFollowsTheTable) {
    const auto c = central();
    struct Row {
        double celsius, seen, fitted;
    };
    constexpr std::array table{Row{-1, 0.08, 0.03}, Row{-2, 0.14, 0.14}, Row{-3, 0.39, 0.41},
                               Row{-4, 0.78, 0.76}, Row{-5, 1.00, 0.94}};
    for (const Row& row : table) {
        EXPECT_NEAR(frost_damage(row.celsius, c), row.seen, 0.065) << row.celsius;
        EXPECT_NEAR(frost_damage(row.celsius, c), row.fitted, 0.0055) << row.celsius;
    }
}

// IRS [V]: frozen beet cannot be stored. Thawed after a night of -5 °C, in a fortnight it has lost
// more than ordinary beet in seventy days.
TEST(LumpPublished, FrozenAndThawedBeetDoesNotKeep) {
    const auto c = central();
    auto night = steady(4.0, 15);
    night.front() = -5.0;
    EXPECT_GT(lump_loss(exposure(night, c), ordinary(), c, kPol).total(),
              loss_at(4.0, 70, ordinary(), c));
}

// --- broken tails -------------------------------------------------------------------------------

// What the whole ledger is for: a broken tail matters little in 2 days and clearly in 120.
TEST(LumpPublished, ATailsWoundMattersLaterNotSooner) {
    const auto c = central();
    const auto tails_after = [&](int days) {
        return lump_loss(exposure(steady(4.5, days), c), ordinary(), c, kPol).tail_wounds / kPol;
    };
    EXPECT_LT(tails_after(2), 0.001);
    EXPECT_GT(tails_after(120), 0.01);
}

/// The squared correlation of tail wounds and loss over 92 clamps of unlike beet, 10 weeks at 9 °C
/// as in Hoffmann 2018. Wounds, soil and how well a variety keeps vary independently, by the half
/// of their mean [assumed], varieties by a tenth.
double variance_explained_by_tails(double entry_score) {
    const Catalogue catalogue;
    const auto c = lump_constants([&](ConstantId id) {
        return catalogue.at_score(id, id == ConstantId::storage_rot_entry_tail ? entry_score : 0.0);
    });
    const auto stay = exposure(steady(9.0, 70), c);
    std::vector<double> tails, losses;
    for (std::uint64_t clamp = 0; clamp < 92; ++clamp) {
        RandomStream random(22, "clamps", clamp);
        const auto vary = [&](double cv) { return std::exp(cv * random.normal()); };
        auto beet = ordinary();
        beet.tail_wound *= vary(0.5);
        beet.crown_wound *= vary(0.5);
        beet.skin_wound *= vary(0.5);
        beet.soil *= vary(0.5);
        tails.push_back(beet.tail_wound);
        losses.push_back(lump_loss(stay, beet, c, kPol).total() * vary(0.1));
    }
    const auto mean = [](const std::vector<double>& v) {
        return std::reduce(v.begin(), v.end()) / static_cast<double>(v.size());
    };
    double xy = 0.0, xx = 0.0, yy = 0.0;
    for (std::size_t i = 0; i < tails.size(); ++i) {
        const double x = tails[i] - mean(tails);
        const double y = losses[i] - mean(losses);
        xy += x * y;
        xx += x * x;
        yy += y * y;
    }
    return xy * xy / (xx * yy);
}

// Koch 2021 [V]: tip breakage explains about 30 % of the variance of sugar loss in storage.
TEST(LumpPublished, BrokenTailsExplainAboutThirtyPerCentOfTheVariance) {
    EXPECT_LT(variance_explained_by_tails(-kIntervalZ), 0.30);
    EXPECT_NEAR(variance_explained_by_tails(0.0), 0.30, 0.15);
    EXPECT_GT(variance_explained_by_tails(kIntervalZ), 0.30);
}

// Hoffmann et al. 2018 [V]: once the machine that broke more tails had the lower loss after 12
// weeks at 9 °C, so tails alone do not decide. With a third fewer torn skins and half as much
// again of broken tails, the spread of the constants allows either order.
TEST(LumpPublished, MoreBrokenTailsMayStillLoseLess) {
    auto more_tails = ordinary();
    more_tails.tail_wound *= 1.5;
    more_tails.skin_wound *= 0.67;
    const auto difference = band_of([&](const LumpConstants& c) {
        return loss_at(9.0, 84, more_tails, c) - loss_at(9.0, 84, ordinary(), c);
    });
    EXPECT_LT(difference.low, 0.0);
    EXPECT_GT(difference.high, 0.0);
}

}  // namespace
}  // namespace beetwright::pile
