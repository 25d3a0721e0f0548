// What a wait is worth: closed forms, published rates, and the ways to lose by it.
#include "crop/wait.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "crop/recoverable.hpp"

namespace beetwright::crop {
namespace {

const Catalogue kCatalogue;
const GrowthCurve kCurve = growth_curve(kCatalogue);
constexpr double kKgPerHa = unit::kg_sugar_per_ha.si();
/// 500 per t of recoverable sugar.
double paid(double clean, double pol, double molasses) {
    const double fixed = kCatalogue.value(ConstantId::molasses_factory_loss);
    return 0.5 * clean * (pol - molasses - fixed);
}
WaitQuestion with(const Mishaps& mishaps, const LeafDisease& leaf = {}) {
    return {.leaf = leaf, .mishaps = mishaps, .paid_now = paid, .paid_later = paid};
}

WaitWorth asked(const FieldForecast& forecast, const WaitQuestion& question = {}) {
    auto worth = worth_of_waiting(forecast, question, kCatalogue, RandomStream(70, "wait"));
    EXPECT_TRUE(worth.ok());
    return *worth;
}
FieldForecast of_curve(int day, int later) {
    GrowthFilter filter(kCurve, 1);
    filter.go_to(day);
    return filter.forecast(0, later);
}
/// A field of which everything is known: 80 t/ha at 17.6 less 1.6 % of loss, and `grown` t/ha more.
FieldForecast sure(double grown_t_ha) {
    FieldForecast f;
    const double one = unit::t_clean_per_ha.si();
    f.mean = {80.0 * one, 0.176, 0.010, (80.0 + grown_t_ha) * one, 0.176, 0.010, 0.8};
    return f;
}

// 80 t/ha at 17.6 - 1.0 - 0.6 = 16 %, eight tenths delivered: 10,240 kg/ha; 5 t/ha more: 640 kg/ha,
// at 500 per t 320 per ha.
TEST(Waiting, OfAFieldThatIsKnownIsThePlainDifference) {
    const auto worth = asked(sure(5.0), with({}));
    EXPECT_NEAR(worth.now.value.si() / kKgPerHa, 10'240.0, 1e-6);
    for (const auto& change : {worth.change, worth.change_if_all_goes_well}) {
        EXPECT_NEAR(change.value.si() / kKgPerHa, 640.0, 1e-6);
        EXPECT_NEAR(change.low.si() / kKgPerHa, 640.0, 1e-6);
        EXPECT_NEAR(change.high.si() / kKgPerHa, 640.0, 1e-6);
    }
    EXPECT_NEAR(worth.money.value / unit::money_per_ha, 320.0, 1e-6);
    EXPECT_EQ(worth.chance_of_loss, 0.0);
    EXPECT_EQ(worth.mishaps_cost.si(), 0.0);
}

TEST(Waiting, NoTimeIsWorthNothing) {
    const auto worth = asked(of_curve(40, 40));
    EXPECT_NEAR(worth.change.low.si() / kKgPerHa, 0.0, 1e-6);
    EXPECT_NEAR(worth.change.high.si() / kKgPerHa, 0.0, 1e-6);
    EXPECT_GT(worth.now.high.si(), 1.2 * worth.now.low.si());
}

TEST(Waiting, TellsNoMoneyWithoutAPrice) {
    EXPECT_FALSE(asked(sure(5.0)).money.value.is_known());
}

// Means by the exact moments of products; the delivered share is apart from the yield as long as
// nothing was delivered. 4,000 draws, seed 70: five standard errors of the mean.
TEST(Waiting, MeansAreThoseOfTheMoments) {
    const auto forecast = of_curve(45, 66);
    const auto worth = asked(forecast);
    const double now = recoverable_yield(forecast, When::now, kCatalogue).value.si();
    const double later = recoverable_yield(forecast, When::later, kCatalogue).value.si();
    const auto error = [](const Estimate<SugarPerArea>& e) {
        return (e.high - e.low).si() / (2.0 * kIntervalZ) / std::sqrt(4000.0);
    };
    EXPECT_NEAR(worth.now.value.si(), kCurve.delivered * now, 5.0 * error(worth.now));
    EXPECT_NEAR(worth.change.value.si(), kCurve.delivered * (later - now),
                5.0 * error(worth.change));
}

// What a field holds is known to a quarter, what a week brings far better: the two yields share
// their doubt.
TEST(Waiting, IsKnownBetterThanTheYieldsThemselves) {
    const auto worth = asked(of_curve(45, 52));
    EXPECT_LT((worth.change.high - worth.change.low).si(),
              0.3 * (worth.now.high - worth.now.low).si());
}

// Hull and Webb 1970 [V]: 0.247 hundredweight of sugar an acre and day in October, 0.083 in
// November; 1 cwt/acre = 125.5 kg/ha: 31 and 10.4 kg/ha a day over 1963-67, when 7.5 t/ha stood.
// Today's crop is about twice that, so shares of what stands on 1 October are compared: 0.46 and
// 0.155 % a day. The mean of each month lies in the interval, and a day of October is worth more
// than twice one of November.
TEST(Waiting, IsWorthLessAsTheAutumnGoesOn) {
    const double stands = asked(of_curve(48, 48)).now.value.si();
    const auto october = asked(of_curve(48, 79)).change;
    const auto november = asked(of_curve(79, 109)).change;
    const auto per_day = [&](SugarPerArea change, int days) {
        return 100.0 * change.si() / stands / days;
    };
    EXPECT_LT(per_day(october.low, 31), 0.46);
    EXPECT_GT(per_day(october.high, 31), 0.46);
    EXPECT_LT(per_day(november.low, 30), 0.155);
    EXPECT_GT(per_day(november.high, 30), 0.155);
    EXPECT_GT(per_day(october.value, 31), 2.0 * per_day(november.value, 30));
}

// The chance of a mishap that costs more than the wait brings is the chance of losing: binomial
// standard error of 4,000 draws at 0.3, 0.0072; four of them.
TEST(Waiting, LosesAsOftenAsAFieldCannotBeLifted) {
    const auto worth = asked(sure(0.5), with({.too_wet = 0.3}));
    EXPECT_NEAR(worth.chance_of_loss, 0.3, 0.029);
    EXPECT_NEAR((worth.change_if_all_goes_well.value - worth.change.value).si(),
                worth.mishaps_cost.si(), 1e-9);
    EXPECT_GT(worth.mishaps_cost.si(), 0.0);
    const auto certain = asked(sure(0.5), with({.too_wet = 1.0}));
    EXPECT_NEAR(certain.mishaps_cost.si() / worth.mishaps_cost.si(), 1.0 / 0.3, 0.4);
}

// A premium that ends tomorrow: waiting pays less money although there is more
// sugar. 5 t/ha more are worth 320 per ha; a tenth less on 10,880 kg/ha at 0.5 is 544 per ha.
TEST(Waiting, IsPaidByTheTermsOfEachDay) {
    auto question = with({});
    question.paid_later = [](double clean, double pol, double molasses) {
        return 0.9 * paid(clean, pol, molasses);
    };
    const auto worth = asked(sure(5.0), question);
    EXPECT_NEAR(worth.money.value / unit::money_per_ha, 320.0 - 544.0, 1e-6);
    EXPECT_EQ(worth.chance_of_loss, 0.0);
    EXPECT_EQ(worth.chance_of_less_money, 1.0);
}

TEST(Waiting, FrostTakesGrowthAndFrozenRootsTakeSugar) {
    const auto none = asked(sure(5.0));
    const auto leaf = asked(sure(5.0), with({.leaf_frost = 1.0}));
    const auto roots = asked(sure(5.0), with({.leaf_frost = 1.0, .frozen_roots = 1.0}));
    // 0.1 to 0.8 of the growth is left with chance 90 %.
    EXPECT_NEAR(leaf.change.low / none.change.value, 0.1, 0.02);
    EXPECT_NEAR(leaf.change.high / none.change.value, 0.8, 0.02);
    EXPECT_EQ(leaf.chance_of_loss, 0.0);
    EXPECT_GT(roots.chance_of_loss, 0.5);
    EXPECT_LT(roots.change.value, leaf.change.value);
}

TEST(Waiting, RefusesWhatCannotBe) {
    const auto problems = [](const WaitQuestion& question) {
        const auto worth =
            worth_of_waiting(sure(5.0), question, kCatalogue, RandomStream(70, "wait"));
        return worth.ok() ? 0U : worth.problems().size();
    };
    EXPECT_EQ(problems({}), 0U);
    EXPECT_EQ(problems(with({.too_wet = std::nan("")}, {.now = -0.1, .later = 2.0})), 3U);
    EXPECT_EQ(problems(with({.leaf_frost = 0.1, .frozen_roots = 0.2})), 1U);
}

TEST(SickLeaf, TakesMoreTheMoreOfItThereIs) {
    double before = HUGE_VAL;
    for (const double share : {0.0, 0.1, 0.3, 0.6, 1.0}) {
        const auto worth = asked(sure(5.0), with({}, {0.0, share}));
        EXPECT_LT(worth.change.value.si(), before) << share;
        before = worth.change.value.si();
    }
}

// Shane and Teng 1992, Plant Dis. 76:812-820 [V]: 50 % severity about 10 days before harvest cost
// 27, 27 and 43 % of the revenue. Leaf spot here goes from nothing on 14 August through 50 % on 1
// October to 60 % on 11 October; payment is the affine one of the time: 0.2201 money a pound of
// recoverable sugar a short ton less 33.87 a short ton (value.md 2.1 [VC]). All three lie in the
// 90 % band, its middle between the least and the most.
TEST(SickLeaf, CostsTheRevenueThatTrialsLost) {
    constexpr int kHarvest = 58;
    const auto& root = kCurve.of(Trait::root);
    const auto revenue = [](double roots, double content) {
        return roots * (0.2201 * 2000.0 * content - 33.87);
    };
    const auto lost = [&](double score) {
        const auto constants =
            leaf_constants([&](ConstantId id) { return kCatalogue.at_score(id, score); });
        const LeafDisease leaf{0.0, 0.6};
        const double gain = root.mean(kHarvest) - root.start;
        const double pol = kCurve.of(Trait::pol).mean(kHarvest);
        const double held = kCurve.of(Trait::molasses).mean(kHarvest);
        const double sick = revenue(root.start + gain * growth_left(leaf, constants),
                                    pol - pol_lost(leaf, constants) - held);
        return 1.0 - sick / revenue(root.mean(kHarvest), pol - held);
    };
    EXPECT_LT(lost(-kIntervalZ), 0.27);
    EXPECT_GT(lost(kIntervalZ), 0.43);
    EXPECT_GT(lost(0.0), 0.27);
    EXPECT_LT(lost(0.0), 0.43);
}

}  // namespace
}  // namespace beetwright::crop
