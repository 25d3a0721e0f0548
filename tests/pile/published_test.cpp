// Piles against what was published of piles: ranges, because the weather of those winters is not
// known and is invented here. What is not met is said in docs/methods/pile.md, with by how much.
#include <gtest/gtest.h>

#include "pile/winters.hpp"

namespace beetwright::pile {
namespace {

double warmth_of(const Pile& pile) {
    double sum = 0.0;
    for (std::size_t i = pile.grid().box.begin(); i < pile.grid().box.end(); ++i) {
        sum += pile.bed().beet[i] * pile.state().health.thermal_time[i];
    }
    return sum / totals(pile).beet;
}

// KBIVB/IRBAB [V]: about 5 % of the sugar by 300 °C·d.
TEST(PublishedPiles, BelgiumFivePerCentByThreeHundredDegreeDays) {
    const auto pile = wintered(
        heap(), {.start_C = 7.0, .end_C = 4.0, .days = 55.0, .day_night_C = 2.5, .fronts_C = 3.0});
    ASSERT_NE(pile, nullptr);
    EXPECT_NEAR(warmth_of(*pile), 300.0, 15.0);
    const auto sum = totals(*pile);
    const double lost = 1.0 - sum.sugar_left / sum.sugar_piled;
    EXPECT_GT(lost, 0.04);
    EXPECT_LT(lost, 0.06);
}

// Strausbaugh 2009, Idaho [V]: 8-17 % in 100 days, 100-250 g/t/d, large piles outdoors.
TEST(PublishedPiles, IdahoAHundredDays) {
    Plan plan;
    plan.shape = {.width = Length(40.0),
                  .height = Length(6.0),
                  .top_width = Length(26.0),
                  .length = Length(200.0)};
    plan.grid.cell_across = plan.grid.cell_up = Length(1.0);
    plan.lots.emplace_back();
    plan.lots.back().beet = with_wounds(ordinary(), 0.6);
    const auto pile = wintered(
        plan, {.start_C = 7.0, .end_C = -6.0, .days = 100.0, .day_night_C = 5.0, .fronts_C = 5.0});
    ASSERT_NE(pile, nullptr);
    const auto sum = totals(*pile);
    const double lost = 1.0 - sum.sugar_left / sum.sugar_piled;
    EXPECT_GT(lost, 0.08);
    EXPECT_LT(lost, 0.17);
    EXPECT_GT(lost_g_t_d(*pile), 100.0);
    EXPECT_LT(lost_g_t_d(*pile), 250.0);
}

// UK clamps averaged 5 °C in a cold year [V] and 6-8.5 °C all winter in another [V]: a bare
// clamp through which air goes follows the air's mean, a little warmer.
TEST(PublishedPiles, BritishClampsFollowTheAir) {
    for (const double mean_C : {5.0, 7.0}) {
        const auto pile = wintered(heap(), {.start_C = mean_C,
                                            .end_C = mean_C,
                                            .days = 60.0,
                                            .day_night_C = 2.5,
                                            .fronts_C = 3.0});
        ASSERT_NE(pile, nullptr);
        const double mean = warmth_of(*pile) / 60.0;
        EXPECT_GT(mean, mean_C);
        EXPECT_LT(mean, mean_C + 1.5);
    }
}

// Chochola and Pavlu 2015 [V], heaps of 100-150 t: 247 bare, 138 under 10 cm of straw, 81 g/t/d
// under straw and fleece. The heaps here lie within that span; their order is not met: pile.md.
TEST(PublishedPiles, CzechHeapsLieWithinTheSpan) {
    const Winter winter{
        .start_C = 7.0, .end_C = 1.0, .days = 58.0, .day_night_C = 3.0, .fronts_C = 5.0};
    const auto c = central_pile();
    Plan covered = heap();
    covered.covers.push_back(
        {straw(c, Length(0.1)), {Side::low_flank, Side::high_flank, Side::top}, 240.0});
    for (const Plan& plan : {heap(), covered}) {
        const auto pile = wintered(plan, winter);
        ASSERT_NE(pile, nullptr);
        EXPECT_GT(lost_g_t_d(*pile), 81.0);
        EXPECT_LT(lost_g_t_d(*pile), 247.0);
    }
}

// Weight lost in clamps: 2-5 % is typical (NBR 2013 [V]).
TEST(PublishedPiles, WeightLostInClamps) {
    const auto pile = wintered(
        heap(), {.start_C = 8.0, .end_C = 4.0, .days = 80.0, .day_night_C = 2.5, .fronts_C = 3.5});
    ASSERT_NE(pile, nullptr);
    const auto sum = totals(*pile);
    EXPECT_GT(sum.dried / sum.beet, 0.015);
    EXPECT_LT(sum.dried / sum.beet, 0.05);
}

// Frost bites the rim of a bare heap, and straw keeps most of it out (Czech heaps: 40-60 cm on the
// windward side of bare ones).
TEST(PublishedPiles, StrawKeepsFrostOut) {
    const Winter frost{.start_C = 5.0,
                       .end_C = -4.0,
                       .days = 50.0,
                       .day_night_C = 3.0,
                       .fronts_C = 4.0,
                       .wind = 4.0};
    const auto c = central_pile();
    Plan covered = heap();
    covered.covers.push_back(
        {straw(c, Length(0.1)), {Side::low_flank, Side::high_flank, Side::top}, 240.0});
    const auto damage = [](const Pile& pile) {
        double sum = 0.0;
        for (std::size_t i = pile.grid().box.begin(); i < pile.grid().box.end(); ++i) {
            sum += pile.bed().beet[i] * pile.state().health.damage[i];
        }
        return sum / totals(pile).beet;
    };
    const auto bare = wintered(heap(), frost);
    const auto under_straw = wintered(covered, frost);
    ASSERT_NE(bare, nullptr);
    ASSERT_NE(under_straw, nullptr);
    EXPECT_GT(damage(*bare), 0.05);
    EXPECT_LT(damage(*under_straw), 0.7 * damage(*bare));
}

}  // namespace
}  // namespace beetwright::pile
