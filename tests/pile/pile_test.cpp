// A pile against the lump where both apply, section against whole, and what it does when people
// put covers on, blow or err.
#include "pile/pile.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>

#include "pile/plans.hpp"

namespace beetwright::pile {
namespace {

WeatherHour steady_hour(double celsius) {
    WeatherHour hour;
    hour.air_C = celsius;
    hour.humidity = humidity_ratio_of(0.99 * saturation_Pa(celsius));
    hour.sky_W_m2 = 5.670374419e-8 * std::pow(celsius + kZeroCelsius, 4.0);
    hour.deep_ground_C = celsius;
    return hour;
}

// A small heap in a gale at 5 °C stays at 5 °C: it loses what the lump loses, cause by cause.
TEST(Pile, WellMixedLosesWhatTheLumpLoses) {
    Plan plan;
    plan.shape = {.width = Length(2.4),
                  .height = Length(0.8),
                  .top_width = Length(0.8),
                  .length = Length(10.0)};
    plan.grid.cell_across = plan.grid.cell_up = Length(0.2);
    plan.lots.emplace_back();
    plan.lots.back().beet = ordinary();
    plan.lots.back().celsius = 5.0;
    plan.ground_C = plan.deep_ground_C = 5.0;
    auto c = central_pile();
    c.sprout_rate = 0.0;
    c.healing_middle_C = 5.0;  // where wounds heal as the lump's do
    auto made = Pile::make(plan, c);
    ASSERT_TRUE(made.ok());
    auto& pile = **made;
    auto hour = steady_hour(5.0);
    hour.wind = 20.0;
    constexpr int kDays = 80;
    for (int k = 0; k < 24 * kDays; ++k) {
        ASSERT_TRUE(pile.pass(hour).ok());
    }
    const auto sum = totals(pile);
    EXPECT_NEAR(sum.mean_C, 5.0, 0.3);
    // Cell by cell: the lump's loss after the cell's own exposure is the sugar that left it.
    for (std::size_t i = pile.grid().box.begin(); i < pile.grid().box.end(); ++i) {
        if (pile.bed().has_beet(i)) {
            const auto loss = lump_loss(pile.state().health.exposure(i), ordinary(), c.lump, 0.175);
            EXPECT_NEAR(1.0 - pile.state().health.left[i], loss.total() / 0.175, 2e-7);
        }
    }
    // And the whole heap against the lump at its mean temperature through the time.
    double warmth = 0.0;
    for (std::size_t i = pile.grid().box.begin(); i < pile.grid().box.end(); ++i) {
        warmth += pile.bed().beet[i] * pile.state().health.thermal_time[i];
    }
    const double lump = loss_at(warmth / sum.beet / kDays, kDays, ordinary(), c.lump);
    EXPECT_NEAR(1.0 - sum.sugar_left / sum.sugar_piled, lump / 0.175, 0.003 * lump / 0.175);
}

// One cell along that stands for a metre is the same as a pile of walls at its ends.
TEST(Pile, SectionIsASliceOfAnUprightPile) {
    Plan section = heap(0.5);
    section.shape.ends = Ends::upright;
    section.shape.length = Length(4.0);
    Plan whole = section;
    whole.grid.cell_along = Length(1.0);
    // Ends so thickly covered that nothing passes there.
    whole.covers.push_back({{.resistance = 1e9, .air = 1e15, .spread = -1.0, .rain = 0.0},
                            {Side::low_end, Side::high_end}});
    RunRules rules;
    rules.flow = {.most_steps = 60, .change = 1e-5, .tightness = 1e-6};
    auto of_section = Pile::make(section, central_pile(), rules);
    auto of_whole = Pile::make(whole, central_pile(), rules);
    ASSERT_TRUE(of_section.ok() && of_whole.ok());
    for (std::size_t k = 0; k < 150; ++k) {
        ASSERT_TRUE(
            (*of_section)->pass(autumn_hour(k, 8.0, (*of_section)->grid().sides.size())).ok());
        ASSERT_TRUE((*of_whole)->pass(autumn_hour(k, 8.0, (*of_whole)->grid().sides.size())).ok());
    }
    const auto a = totals(**of_section);
    const auto b = totals(**of_whole);
    EXPECT_NEAR(a.sugar_left / a.sugar_piled, b.sugar_left / b.sugar_piled, 1e-5);
    EXPECT_NEAR(a.mean_C, b.mean_C, 0.02);
    EXPECT_NEAR(4.0 * a.dried, b.dried, 0.01 * b.dried);
}

// As coarsely as flow and steps are solved in a run, against a hundred thousand times as tightly.
TEST(Pile, CoarseSolutionsLeaveTheAnswerAsItIs) {
    RunRules tight;
    tight.flow = {.most_steps = 60, .change = 1e-6, .tightness = 1e-7};
    tight.step = {.kelvin = 1e-6, .most = 80, .slopes = num::Slopes::van_leer};
    auto usual = Pile::make(heap(), central_pile());
    auto careful = Pile::make(heap(), central_pile(), tight);
    ASSERT_TRUE(usual.ok() && careful.ok());
    for (std::size_t k = 0; k < std::size_t{480}; ++k) {
        const auto hour = autumn_hour(k, 8.0, (*usual)->grid().sides.size());
        ASSERT_TRUE((*usual)->pass(hour).ok());
        ASSERT_TRUE((*careful)->pass(hour).ok());
    }
    const auto& box = (*usual)->grid().box;
    for (std::size_t i = box.begin(); i < box.end(); ++i) {
        EXPECT_NEAR((*usual)->state().celsius[i], (*careful)->state().celsius[i], 0.1);
    }
    const auto a = totals(**usual);
    const auto b = totals(**careful);
    const double lost = b.sugar_piled - b.sugar_left;
    EXPECT_NEAR(a.sugar_piled - a.sugar_left, lost, 1e-3 * lost);
}

double warmest_after(const Plan& plan, std::size_t hours, double start_C) {
    auto made = Pile::make(plan, central_pile());
    EXPECT_TRUE(made.ok());
    for (std::size_t k = 0; k < hours; ++k) {
        const auto done = (*made)->pass(autumn_hour(k, start_C, (*made)->grid().sides.size()));
        EXPECT_TRUE(done.ok()) << done.problems().front().text();
    }
    return totals(**made).warmest_C;
}

// Plastic over a warm heap keeps the wind out and the heat in.
TEST(Pile, PlasticKeepsItWarm) {
    const Plan bare = heap(0.4);
    Plan sheeted = bare;
    sheeted.covers.push_back(
        {plastic(central_pile()), {Side::low_flank, Side::high_flank, Side::top}});
    EXPECT_GT(warmest_after(sheeted, std::size_t{600}, 8.0),
              warmest_after(bare, std::size_t{600}, 8.0) + 3.0);
}

// A wide pile under a sheet: air goes in circles there, and no more carbon dioxide can be made of
// it than there was oxygen in it; but nearly all of that is used.
TEST(Pile, CarbonDioxideUnderASheetIsMadeOfWhatOxygenThereWas) {
    Plan plan = heap(0.5);
    plan.shape.width = Length(20.0);
    plan.shape.top_width = Length(12.0);
    plan.shape.height = Length(4.0);
    plan.lots.back().celsius = 15.0;
    plan.covers.push_back(
        {plastic(central_pile()), {Side::low_flank, Side::high_flank, Side::top}});
    auto made = Pile::make(plan, central_pile());
    ASSERT_TRUE(made.ok());
    constexpr double kMolarRatio = 28.966 / 44.0095;
    double most = 0.0;
    for (std::size_t k = 0; k < 24 * 10; ++k) {
        ASSERT_TRUE((*made)->pass(autumn_hour(k, 8.0, (*made)->grid().sides.size())).ok());
        most = std::max(most,
                        kMolarRatio * *std::ranges::max_element((*made)->state().carbon_dioxide));
    }
    EXPECT_GT(most, 0.1);
    EXPECT_LT(most, 1.1 * kOutsideOxygen);
}

// A fan that blows under a tight sheet: little passes, at the pressure that it gives at no flow.
TEST(Pile, AFanUnderATightSheetComesToAStand) {
    Plan plan = heap(0.5);
    plan.covers.push_back(
        {plastic(central_pile()), {Side::low_flank, Side::high_flank, Side::top}});
    plan.ducts.push_back({.across_m = 4.5, .free_kg_s = 0.4, .still_Pa = 700.0});
    plan.ducts.back().rule.colder_K = -50.0;
    plan.ducts.back().rule.not_below_C = -50.0;
    auto made = Pile::make(plan, central_pile());
    ASSERT_TRUE(made.ok());
    for (std::size_t k = 0; k < 48; ++k) {
        const auto done = (*made)->pass(autumn_hour(k, 8.0, (*made)->grid().sides.size()));
        ASSERT_TRUE(done.ok()) << done.problems().front().text();
    }
    const auto& air = (*made)->airflow();
    const double flow = air.duct_flow().front();
    EXPECT_GT(flow, 0.0);
    EXPECT_LT(flow, 0.4);
    // On the fan's own curve.
    EXPECT_NEAR(air.duct_Pa().front(), 700.0 * (1.0 - std::pow(flow / 0.4, 2.0)), 0.1 * 700.0);
}

// A fan that blows when it is colder outside cools the middle.
TEST(Pile, FanCools) {
    const Plan still = heap(0.4);
    Plan blown = still;
    // 50 m3/h/t for 14.3 m2 x 650 kg/m3, dry air of 1.26 kg/m3.
    blown.ducts.push_back({.across_m = 4.5, .free_kg_s = 0.16, .still_Pa = 200.0});
    EXPECT_LT(warmest_after(blown, std::size_t{240}, 8.0),
              warmest_after(still, std::size_t{240}, 8.0));
}

// Tipped column by column from one end, from the fifth hour on, and taken away until nothing is
// left.
TEST(Pile, IsBuiltUpFromNothingAndTakenAwayToNothing) {
    Plan plan = heap(0.5);
    const Lot whole = plan.lots.front();
    plan.lots.clear();
    constexpr int kColumns = 18;
    for (int n = 0; n < kColumns; ++n) {
        Lot lot = whole;
        lot.low[0] = 0.5 * n;
        lot.high[0] = 0.5 * (n + 1);
        lot.piled_h = 5.0 + 2.0 * n;
        lot.removed_h = 80.0 + 3.0 * n;
        plan.lots.push_back(lot);
    }
    auto made = Pile::make(plan, central_pile());
    ASSERT_TRUE(made.ok());
    double most = 0.0;
    for (std::size_t k = 0; k < 150; ++k) {
        const auto done = (*made)->pass(autumn_hour(k, 8.0, (*made)->grid().sides.size()));
        ASSERT_TRUE(done.ok()) << done.problems().front().text();
        const auto sum = totals(**made);
        ASSERT_TRUE(std::isfinite(sum.heat) && std::isfinite(sum.mean_C));
        most = std::max(most, sum.beet);
    }
    // 9 m and 2 m wide and 2.6 m high: 14.3 m2 of 650 kg/m3.
    EXPECT_NEAR(most, 14.3 * 650.0, 1e-6 * most);
    EXPECT_EQ(totals(**made).beet, 0.0);
    EXPECT_EQ((*made)->airflow().throughput(), 0.0);
}

// Put on before a night that is forecast colder than -2 °C, or when it is; taken off above 5 °C,
// but not while such a night is to come; and at the end of its span.
TEST(Pile, CoversFollowTheirRule) {
    Plan plan = heap(0.5);
    plan.covers.push_back(
        {fleece(central_pile()), {Side::top}, 2.0, 12.0, {.on_below_C = -2.0, .off_above_C = 5.0}});
    auto made = Pile::make(plan, central_pile());
    ASSERT_TRUE(made.ok());
    struct Hour {
        double air_C, coming_low_C;
        bool lies;
    };
    // By hand, hour by hour.
    const std::array hours{
        Hour{3.0, -5.0, false},  // before its span
        Hour{3.0, -5.0, false},  Hour{3.0, 0.0, false}, Hour{3.0, -3.0, true},
        Hour{4.0, 1.0, true},    Hour{6.0, -3.0, true},  // a cold night is still to come
        Hour{6.0, 2.0, false},   Hour{4.0, 2.0, false}, Hour{-2.5, 1e9, true},
        Hour{-1.0, 1e9, true},   Hour{5.5, 1e9, false}, Hour{-3.0, 1e9, true},
        Hour{-3.0, -9.0, false},  // behind its span
    };
    for (const auto& h : hours) {
        auto hour = steady_hour(h.air_C);
        hour.coming_low_C = h.coming_low_C;
        ASSERT_TRUE((*made)->pass(hour).ok());
        EXPECT_EQ((*made)->covers()[2].resistance > 0.0, h.lies) << (*made)->hour();
        EXPECT_EQ((*made)->covers()[0].resistance, 0.0);
    }
    EXPECT_EQ((*made)->work().covers_put_on, 3);
    EXPECT_EQ((*made)->work().covers_taken_off, 3);
    plan.covers.back().rule.off_above_C = -4.0;
    EXPECT_FALSE(Pile::make(plan, central_pile()).ok());
}

// Snow over a heap in frost: the coldest beet stays warmer.
TEST(Pile, SnowKeepsFrostOut) {
    const auto coldest = [](double snow_m) {
        auto made = Pile::make(heap(0.5), central_pile());
        EXPECT_TRUE(made.ok());
        double least = 99.0;
        for (int k = 0; k < 24 * 4; ++k) {
            auto hour = steady_hour(-12.0);
            hour.snow_m = snow_m;
            EXPECT_TRUE((*made)->pass(hour).ok());
            least = std::min(least, totals(**made).coldest_C);
        }
        return least;
    };
    EXPECT_GT(coldest(0.2), coldest(0.0) + 2.0);
}

TEST(Pile, BadPlansAreToldInOneGo) {
    Plan plan = heap();
    plan.lots.clear();
    plan.ducts.push_back({.across_m = 40.0, .free_kg_s = -1.0, .still_Pa = 100.0});
    plan.covers.push_back({{.resistance = -1.0}, {Side::top}});
    plan.shape.height = Length(-2.0);
    const auto made = Pile::make(plan, central_pile());
    ASSERT_FALSE(made.ok());
    EXPECT_EQ(made.problems().size(), 5U);
    for (const auto& problem : made.problems()) {
        EXPECT_FALSE(problem.what.empty());
        EXPECT_FALSE(problem.fix.empty());
    }
    plan = heap();
    plan.lots.front().low[0] = 100.0;
    EXPECT_FALSE(Pile::make(plan, central_pile()).ok());
    plan = heap();
    plan.lots.front().beet.soil = 0.9;
    EXPECT_FALSE(Pile::make(plan, central_pile()).ok());
}

TEST(Pile, BadWeatherIsNamedWithItsHour) {
    auto made = Pile::make(heap(), central_pile());
    ASSERT_TRUE(made.ok());
    auto hour = steady_hour(5.0);
    ASSERT_TRUE((*made)->pass(hour).ok());
    hour.air_C = std::nan("");
    const auto done = (*made)->pass(hour);
    ASSERT_FALSE(done.ok());
    EXPECT_NE(done.problems().front().what.find("hour 1"), std::string::npos);
    hour = steady_hour(5.0);
    hour.air_C = 70.0;
    EXPECT_FALSE((*made)->pass(hour).ok());
}

// A step that may not try again says so with the hour and the place, and leaves no NaN.
TEST(Pile, WhatDoesNotStandIsAProblemWithHourAndPlace) {
    RunRules rules;
    rules.step.kelvin = 1e-30;
    auto made = Pile::make(heap(0.5), central_pile(), rules);
    ASSERT_TRUE(made.ok());
    const auto done = (*made)->pass(autumn_hour(0, 5.0, (*made)->grid().sides.size()));
    ASSERT_FALSE(done.ok());
    EXPECT_NE(done.problems().front().what.find("hour 0 at "), std::string::npos);
    for (const double t : (*made)->state().celsius) {
        EXPECT_TRUE(std::isfinite(t));
    }
}

}  // namespace
}  // namespace beetwright::pile
