// Piles against what was published of piles: ranges, because the weather of those winters is not
// known and is invented here. What is not met is said in docs/methods/pile.md, with by how much.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <string>

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

// The same heaps in a winter with frost, which theirs were: bare ones were bitten 40 to 60 cm deep
// on the windward side. Bare loses most, straw less, straw and fleece least, as published; bare and
// straw are near their figures, straw and fleece are not: pile.md.
TEST(PublishedPiles, CzechCoversComeInTheirOrder) {
    const Winter winter{
        .start_C = 6.0, .end_C = -2.0, .days = 58.0, .day_night_C = 4.0, .fronts_C = 6.0};
    const auto c = central_pile();
    const auto covered = [](const Cover& cover) {
        Plan plan = heap();
        plan.covers.push_back({cover, {Side::low_flank, Side::high_flank, Side::top}, 240.0});
        return plan;
    };
    const auto bare = wintered(heap(), winter);
    const auto under_straw = wintered(covered(straw(c, Length(0.1))), winter);
    const auto under_both = wintered(covered(straw_under_fleece(c, Length(0.1))), winter);
    ASSERT_TRUE(bare != nullptr && under_straw != nullptr && under_both != nullptr);
    EXPECT_NEAR(lost_g_t_d(*bare), 247.0, 0.15 * 247.0);
    EXPECT_NEAR(lost_g_t_d(*under_straw), 138.0, 0.25 * 138.0);
    EXPECT_LT(lost_g_t_d(*under_both), 0.92 * lost_g_t_d(*under_straw));
    RecordProperty("bare", std::to_string(lost_g_t_d(*bare)));
    RecordProperty("straw", std::to_string(lost_g_t_d(*under_straw)));
    RecordProperty("straw_and_fleece", std::to_string(lost_g_t_d(*under_both)));
    // How deep the windward flank is bitten: to where a fifth of the cells are killed.
    const auto& grid = bare->grid();
    double bitten = 0.0;
    for (std::size_t i = grid.box.begin(); i < grid.box.end(); ++i) {
        const double depth =
            grid.sides[0].plane.depth({grid.centre[0][i], grid.centre[1][i], grid.centre[2][i]});
        const bool is_bitten = bare->bed().has_beet(i) && bare->state().health.damage[i] > 0.2;
        bitten = is_bitten && grid.centre[2][i] > 0.5 && grid.centre[2][i] < 2.0 && depth < 1.5
                     ? std::max(bitten, depth)
                     : bitten;
    }
    EXPECT_GT(bitten, 0.3);
    RecordProperty("bitten_m", std::to_string(bitten));
}

// UK stores over 124 days [V]: 0.125 % of the sugar a day at best, 0.15 in well-managed ones;
// clamps averaged 5 °C.
TEST(PublishedPiles, BritishStoresOver124Days) {
    std::vector<double> a_day;
    for (const double mean_C : {4.0, 5.0}) {
        const auto pile = wintered(heap(), {.start_C = mean_C,
                                            .end_C = mean_C,
                                            .days = 124.0,
                                            .day_night_C = 2.5,
                                            .fronts_C = 3.0});
        ASSERT_NE(pile, nullptr);
        const auto sum = totals(*pile);
        a_day.push_back(100.0 * (1.0 - sum.sugar_left / sum.sugar_piled) / 124.0);
        RecordProperty(
            "at_" + std::to_string(static_cast<int>(mean_C)),
            std::to_string(a_day.back()) + " at " + std::to_string(warmth_of(*pile) / 124.0));
    }
    EXPECT_LT(a_day.front(), 0.125);
    EXPECT_GT(a_day.back(), 0.125);
    EXPECT_LT(a_day.back(), 0.16);
}

// Rims of Colorado's piles 1970-72 [V]: the outer foot lost about three times, the second about
// twice what the inside did. The outer one is met to three quarters, the second is not: pile.md.
TEST(PublishedPiles, RimsLoseMoreThanTheInside) {
    Plan plan;
    plan.shape = {.width = Length(30.0),
                  .height = Length(5.0),
                  .top_width = Length(18.0),
                  .length = Length(100.0)};
    plan.grid.cell_across = plan.grid.cell_up = Length(0.3);
    plan.lots.emplace_back();
    plan.lots.back().beet = with_wounds(ordinary(), 0.3);
    const auto pile = wintered(plan, {.start_C = 7.0,
                                      .end_C = -1.0,
                                      .days = 90.0,
                                      .day_night_C = 7.0,
                                      .fronts_C = 5.0,
                                      .wind = 4.0,
                                      .humidity = 0.7});
    ASSERT_NE(pile, nullptr);
    const auto& grid = pile->grid();
    constexpr double kFoot_m = 0.3048;
    std::array<double, 3> lost{};
    std::array<double, 3> kg{};
    for (std::size_t i = grid.box.begin(); i < grid.box.end(); ++i) {
        double depth = 1e9;
        for (std::size_t s = 0; s < 3; ++s) {
            depth = std::min(depth, grid.sides[s].plane.depth(
                                        {grid.centre[0][i], grid.centre[1][i], grid.centre[2][i]}));
        }
        const std::size_t layer = depth < kFoot_m ? 0 : depth < 2.0 * kFoot_m ? 1 : 2;
        lost[layer] += pile->bed().beet[i] * (1.0 - pile->state().health.left[i]);
        kg[layer] += pile->bed().beet[i];
    }
    const double inside = lost[2] / kg[2];
    EXPECT_GT(lost[0] / kg[0], 2.0 * inside);
    EXPECT_LT(lost[0] / kg[0], 4.0 * inside);
    EXPECT_GT(lost[1] / kg[1], 1.05 * inside);
    RecordProperty("outer", std::to_string(lost[0] / kg[0] / inside));
    RecordProperty("second", std::to_string(lost[1] / kg[1] / inside));
}

// Clamps under straw and plastic (NBR 609-2009 [V]): above 10 °C a number of days, but below 15 °C.
// Sheets of which a tenth of each side is open do that; sheets from hem to hem cook the heap.
TEST(PublishedPiles, StrawUnderPlasticStaysBelowFifteen) {
    const auto warmest = [](double open) {
        Plan plan = heap();
        plan.covers.push_back({split(straw_under_plastic(central_pile(), Length(0.2)), open),
                               {Side::low_flank, Side::high_flank, Side::top},
                               72.0});
        auto made = Pile::make(plan, central_pile());
        EXPECT_TRUE(made.ok());
        const Winter winter{
            .start_C = 8.0, .end_C = 3.0, .days = 40.0, .day_night_C = 3.0, .fronts_C = 4.0};
        std::pair<double, double> of{0.0, 0.0};
        for (std::size_t k = 0; k < std::size_t{960}; ++k) {
            EXPECT_TRUE((*made)->pass(winter_hour(winter, k, (*made)->grid().sides.size())).ok());
            const auto sum = totals(**made);
            of.first = std::max(of.first, sum.warmest_C);
            of.second += sum.mean_C > 10.0 ? 1.0 / 24.0 : 0.0;
        }
        return of;
    };
    const auto tenth = warmest(0.1);
    EXPECT_LT(tenth.first, 15.0);
    EXPECT_GT(tenth.second, 2.0);
    RecordProperty("warmest", std::to_string(tenth.first));
    RecordProperty("days_above_10", std::to_string(tenth.second));
    EXPECT_GT(warmest(0.0).first, 20.0);
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
