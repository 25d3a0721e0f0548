#include "beet/sugar_profile.hpp"

#include <gtest/gtest.h>

#include "base/estimate.hpp"
#include "base/random.hpp"

namespace beetwright::beet {
namespace {

const Catalogue kCatalogue;

ProfileConstants central() {
    return profile_constants([](ConstantId id) { return kCatalogue.value(id); });
}

constexpr double kFall = 1.0 / 3.0;  // Mahn, Hoffmann and Maerlaender 2002 [V]

// Mahn, Hoffmann and Maerlaender 2002 [V]: sugar falls by about one third up to the upper stem;
// soluble nitrogen is about three times as high there.
TEST(SugarProfile, SugarFallsByAThirdAndImpuritiesTrebleUpToTheTop) {
    EXPECT_EQ(sugar_along_crown(0.0, kFall), 1.0);
    EXPECT_NEAR(sugar_along_crown(1.0, kFall), 2.0 / 3.0, 1e-15);
    EXPECT_EQ(impurity_along_crown(0.0, central().crown_impurity_ratio), 1.0);
    EXPECT_NEAR(impurity_along_crown(1.0, central().crown_impurity_ratio), 3.0, 1e-15);
    // Below the crown and above its top nothing more changes.
    EXPECT_EQ(sugar_along_crown(-1.0, kFall), 1.0);
    EXPECT_EQ(impurity_along_crown(2.0, 3.0), impurity_along_crown(1.0, 3.0));
}

// A crown cut anywhere holds together what it held whole, with the root below it as well.
TEST(SugarProfile, SlicesAddUpToTheWholeRoot) {
    for (std::uint64_t i = 0; i < 200; ++i) {
        RandomStream random(6, "profile", i);
        const double cut = random.uniform();
        const double crown = 0.02 + 0.15 * random.uniform();
        const double fall = 0.5 * random.uniform();
        const double top = 1.0 + 3.0 * random.uniform();
        const auto slice = [&](double from, double to) {
            return Portion{crown * (to - from), mean_sugar_along_crown(from, to, fall),
                           mean_impurity_along_crown(from, to, top)};
        };
        const auto below_crown = Portion{1.0 - crown, 1.0, 1.0};
        const auto whole = joined(below_crown, slice(0.0, 1.0));
        const auto in_parts = joined(joined(below_crown, slice(0.0, cut)), slice(cut, 1.0));
        EXPECT_NEAR(in_parts.mass, 1.0, 1e-12);
        EXPECT_NEAR(in_parts.sugar, whole.sugar, 1e-12);
        EXPECT_NEAR(in_parts.molasses, whole.molasses, 1e-12);
    }
}

TEST(SugarProfile, APartAddedChangesTheWholeByWhatItWasSolvedFor) {
    for (std::uint64_t i = 0; i < 200; ++i) {
        RandomStream random(7, "portions", i);
        const double mass = 0.01 + 0.2 * random.uniform();
        const double sugar = -0.1 * random.uniform();
        const double molasses = 0.2 * random.uniform();
        const auto whole = joined({1.0, 1.0, 1.0}, portion_added(mass, sugar, molasses));
        EXPECT_NEAR(whole.mass, 1.0 + mass, 1e-12);
        EXPECT_NEAR(whole.sugar, 1.0 + sugar, 1e-12);
        EXPECT_NEAR(whole.molasses, 1.0 + molasses, 1e-12);
    }
}

// IfZ, eight varieties [V]: whole-crown against topped: +9.1 % beet, -2.8 % sugar content, +5.3 %
// molasses loss. So the crown is 9.1 / 109.1 = 8.3 % of the whole root and holds (1.091 x 0.972 -
// 1) / 0.091 = 0.664 of the topped root's sugar: two thirds, as Mahn et al. found for the upper
// stem by cutting roots up. Its impurities hold back (1.091 x 1.053 - 1) / 0.091 = 1.635 times as
// much.
TEST(SugarProfile, CrownOfTheWholeCrownTrialHoldsTwoThirdsOfTheSugar) {
    const double molasses = kCatalogue.value(ConstantId::profile_crown_molasses);
    EXPECT_NEAR(molasses, 0.053, 1e-12);
    const auto crown = portion_added(0.091, -0.028, molasses);
    EXPECT_NEAR(crown.mass / (1.0 + crown.mass), 0.0834, 1e-4);
    EXPECT_NEAR(crown.sugar, 1.0 - kFall, 0.01);
    EXPECT_NEAR(crown.molasses, 1.635, 0.001);
    // Of a usual 1.2 % by Buchholz 0.48 is there whatever the analysis: its impurities are about
    // twice the topped root's, the mean of a profile from one to three.
    const double impurities = (crown.molasses * 1.2 - 0.48) / (1.2 - 0.48);
    EXPECT_NEAR(impurities, mean_impurity_along_crown(0.0, 1.0, central().crown_impurity_ratio),
                0.15);
}

// The slice cut off too deep lies below the correct cut: poorer than the root, richer than the
// crown.
TEST(SugarProfile, SliceCutTooDeepHoldsLessThanTheRootAndMoreThanTheCrown) {
    const double crown = portion_added(0.091, -0.028, 0.053).sugar;
    for (const double score : {-kIntervalZ, 0.0, kIntervalZ}) {
        const double slice = kCatalogue.at_score(ConstantId::profile_crown_slice_sugar, score);
        EXPECT_GT(slice, crown);
        EXPECT_LE(slice, 1.0 + 1e-9);
    }
}

// Zidon 1987 (grower note 408 [V]): 3-inch stalks on every beet against none: sugar content 16.49
// and 17.59 %, molasses loss 1.70 and 1.63 %. Stalks without sugar would weigh 17.59 / 16.49 - 1
// = 6.7 %.
TEST(LeafStalks, OfEveryBeetExplainTheTrialsFallInSugarContent) {
    constexpr double kWith = 16.49, kWithout = 17.59;
    constexpr double kAtMost = kWithout / kWith - 1.0;
    EXPECT_NEAR(kCatalogue.at_score(ConstantId::profile_long_stalks, kIntervalZ), kAtMost, 5e-4);
    const auto c = central();
    const double long_ones = stalks_of(1.0, 0.0, c);
    EXPECT_LT(long_ones, kAtMost);
    // Diluted by them alone the content falls by most of what was seen, never by more.
    const double fall = kWithout - kWithout / (1.0 + long_ones);
    EXPECT_LT(fall, kWithout - kWith);
    EXPECT_GT(fall, 0.5 * (kWithout - kWith));
    EXPECT_NEAR(100.0 * c.molasses_of_long_petioles, 1.70 - 1.63, 1e-9);
}

// Common practice, no source: stalks of the usual small shares weigh far below the 3 % of green
// that the old Soviet norm allowed (consultant.ru LAW_103850 [V]).
TEST(LeafStalks, OfFewBeetsWeighLittle) {
    const auto c = central();
    EXPECT_EQ(stalks_of(0.0, 0.0, c), 0.0);
    EXPECT_LT(stalks_of(0.08, 0.12, c), 0.01);
    EXPECT_LT(stalks_of(0.0, 1.0, c), stalks_of(1.0, 0.0, c));
}

// No draw turns a constant about: no stalks that purify, no negative mass.
TEST(SugarProfile, ConstantsKeepTheirSignInEveryDraw) {
    for (const double score : {-3.0, -2.0, 2.0, 3.0}) {
        const auto c =
            profile_constants([&](ConstantId id) { return kCatalogue.at_score(id, score); });
        EXPECT_GT(c.molasses_of_long_petioles, 0.0);
        EXPECT_GT(c.tail_sugar_ratio, 0.5);
        EXPECT_GT(c.crown_slice_sugar_ratio, 0.5);
        EXPECT_GT(c.crown_impurity_ratio, 1.0);
        EXPECT_GT(c.long_stalks, 0.0);
        EXPECT_GT(c.short_stalks, 0.0);
    }
}

}  // namespace
}  // namespace beetwright::beet
