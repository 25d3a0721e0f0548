// The curve against what was dug and published, and the catalogue against its own fit.
#include "crop/growth_curve.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "base/estimate.hpp"
#include "base/quantity.hpp"
#include "sampled_years.hpp"

namespace beetwright::crop {
namespace {

const Catalogue kCatalogue;
const GrowthCurve kCurve = growth_curve(kCatalogue);

constexpr double kTonnesPerHa = unit::t_clean_per_ha.si();
/// Days from 14 August to 19 September, where Hull and Webb begin to count.
constexpr int kHullWebbStart = 36;

// value.md 8C.12 [C], the printed coefficients of Hull and Webb, J. agric. Sci. 75 (1970) [V].
TEST(HullWebb, QuadraticPoints) {
    constexpr std::array<std::array<double, 2>, 7> points{{{0, 80.22},
                                                           {12, 89.39},
                                                           {30, 99.90},
                                                           {42, 104.75},
                                                           {60, 108.78},
                                                           {73, 109.27},
                                                           {79, 108.82}}};
    for (const auto& [day, percent] : points) {
        EXPECT_NEAR(hull_webb_percent(day), percent, 0.005 + 1e-9) << day;
    }
    EXPECT_NEAR(kHullWebbBestDay, 69.7, 0.05);
    EXPECT_GT(hull_webb_percent(kHullWebbBestDay), hull_webb_percent(kHullWebbBestDay - 0.1));
    EXPECT_GT(hull_webb_percent(kHullWebbBestDay), hull_webb_percent(kHullWebbBestDay + 0.1));
}

// value.md 8C.13 [C]: what the diggings of week 33 and 41, 56 days apart, and of week 39 and 41 of
// 2017 say of a day.
TEST(SampledYears, SlopesOfTheReferenceSheet) {
    struct Slope {
        int year, from, to;
        double days, root, pol, sugar_kg;
    };
    constexpr std::array slopes{
        Slope{2014, 33, 41, 56, 0.770, 0.025, 156}, Slope{2015, 33, 41, 56, 0.582, -0.039, 96},
        Slope{2016, 33, 41, 56, 0.527, 0.048, 133}, Slope{2017, 33, 41, 56, 0.625, 0.063, 167},
        Slope{2017, 39, 41, 14, 0.700, -0.014, 114}};
    for (const auto& s : slopes) {
        const auto from = row_of(s.from, s.year), to = row_of(s.to, s.year);
        EXPECT_NEAR((to.root_t_ha - from.root_t_ha) / s.days, s.root, 5.1e-4) << s.year;
        EXPECT_NEAR((to.pol_percent - from.pol_percent) / s.days, s.pol, 5.1e-4) << s.year;
        // The sheet's sugar slopes come from published sugar yields, rounded to 0.1 t/ha, or from
        // products; either is within 0.1 t/ha over the days.
        EXPECT_NEAR(1000.0 * (to.sugar_t_ha - from.sugar_t_ha) / s.days, s.sugar_kg,
                    0.5 + 100.0 / s.days)
            << s.year;
    }
}

// The catalogue's rows are the fit of all the years, to the digits printed there: `one` is a unit
// in the last place of a mean, and a spread comes from two such ends 3.29 apart.
TEST(GrowthCurve, CatalogueIsTheFitOfAllYears) {
    const GrowthCurve fitted = curve_without(0);
    const auto expect_alike = [&](Trait trait, double one) {
        const auto& kept = kCurve.of(trait);
        const auto& fit = fitted.of(trait);
        EXPECT_NEAR(kept.start, fit.start, 0.5 * one);
        EXPECT_NEAR(kept.start_sd, fit.start_sd, one / 3.2);
        EXPECT_NEAR(kept.gain, fit.gain, 0.5 * one);
        EXPECT_NEAR(kept.gain_sd, fit.gain_sd, one / 3.2);
        EXPECT_NEAR(kept.persistence, fit.persistence, 5e-4);
    };
    expect_alike(Trait::root, 0.1 * kTonnesPerHa);
    expect_alike(Trait::pol, 0.001 * 0.01);
    expect_alike(Trait::molasses, 0.001 * 0.01);
}

// Healthy crops in the United Kingdom: 18.5, 13 and 7 t/ha in September, October and November
// (May, FWI Academy 2015 [V]). The curve's turn comes from how these fall, its height from
// Franconia alone: the fall to a twentieth, the heights to a tenth.
TEST(GrowthCurve, GainsInAMonthWhatAHealthyCropDoes) {
    const auto& root = kCurve.of(Trait::root);
    const auto gain = [&](int from, int to) {
        return (root.mean(to) - root.mean(from)) / kTonnesPerHa;
    };
    const double september = gain(18, 48), october = gain(48, 79), november = gain(79, 109);
    EXPECT_NEAR(october / september, 13.0 / 18.5, 0.05 * 13.0 / 18.5);
    EXPECT_NEAR(november / september, 7.0 / 18.5, 0.05 * 7.0 / 18.5);
    EXPECT_NEAR(september, 18.5, 1.85);
    EXPECT_NEAR(october, 13.0, 1.3);
    EXPECT_NEAR(november, 7.0, 0.7);
}

// Not used for the curve: 0.40 t/ha and day delivered in north Germany, weeks 38 to 40 of 2010-17
// (agrarheute 2018 [V]), and 0.38 in Michigan in October (MSU [V]): a gain of digging times the
// delivered share, within the 90 % interval of a year.
TEST(GrowthCurve, AgreesWithRatesItWasNotMadeFrom) {
    const auto& root = kCurve.of(Trait::root);
    const double share = kIntervalZ * root.gain_sd / root.gain;
    const auto rate = [&](int from, int to) {
        return kCurve.delivered * (root.mean(to) - root.mean(from)) / (to - from) / kTonnesPerHa;
    };
    EXPECT_NEAR(rate(34, 54), 0.40, share * 0.40);
    EXPECT_NEAR(rate(34, 54), 0.40, 0.05);
    EXPECT_NEAR(rate(48, 79), 0.38, share * 0.38);
}

// Sugar of the curve against Hull and Webb's, which it was not made from: the gain from 19
// September to their best day in per cent of what stands at the best day, and a best day that is
// flat.
TEST(GrowthCurve, SugarRisesAndFlattensAsInSuffolk) {
    const auto sugar = [&](double day) {
        return kCurve.of(Trait::root).mean(day) * kCurve.of(Trait::pol).mean(day);
    };
    int best = 0;
    for (int day = 0; day < 130; ++day) {
        best = sugar(day) > sugar(best) ? day : best;
    }
    EXPECT_NEAR(best - kHullWebbStart, kHullWebbBestDay, 14.0);
    const double curve = sugar(kHullWebbStart) / sugar(best);
    const double published = hull_webb_percent(0.0) / hull_webb_percent(kHullWebbBestDay);
    EXPECT_NEAR(curve, published, 0.05);
}

TEST(GrowthCurve, HoldsOrTurnsAfterItsTurn) {
    const auto& root = kCurve.of(Trait::root);
    EXPECT_EQ(root.mean(root.turn_day + 20.0), root.mean(root.turn_day));
    const auto& pol = kCurve.of(Trait::pol);
    EXPECT_LT(pol.mean(pol.turn_day + 20.0), pol.mean(pol.turn_day));
    for (const Trait trait : kAllTraits) {
        const auto& course = kCurve.of(trait);
        EXPECT_EQ(course.mean(0.0), course.start);
        EXPECT_NEAR(course.mean(kReferenceDays), course.start + course.gain, 1e-12);
    }
}

TEST(GrowthCurve, CountsDaysFromTheFourteenthOfAugust) {
    EXPECT_EQ(autumn_day(*day_of(2031, 8, 14)), 0);
    EXPECT_EQ(autumn_day(*day_of(2031, 10, 9)), kReferenceDays);
    EXPECT_EQ(autumn_day(*day_of(2031, 9, 19)), kHullWebbStart);
    EXPECT_EQ(autumn_day(*day_of(2031, 8, 1)), -13);
}

}  // namespace
}  // namespace beetwright::crop
