// Heat, water, carbon dioxide and sugar: what came in less what went out is what is held now less
// what was held before, to 1e-9 of what passed. Under sun, rain, wind, frost, covers, a fan, and
// beet put there and taken away.
#include <gtest/gtest.h>

#include <numeric>

#include "pile/conversions.hpp"
#include "pile/plans.hpp"

namespace beetwright::pile {
namespace {

Plan eventful() {
    Plan plan = heap(0.4);
    plan.grid.ground_layers = 4;
    const Lot first = plan.lots.front();
    plan.lots.clear();
    for (int part = 0; part < 3; ++part) {
        Lot lot = first;
        lot.low[0] = 3.0 * part;
        lot.high[0] = 3.0 * (part + 1);
        lot.piled_h = 30.0 * part;
        lot.celsius = 9.0 + part;
        lot.beet.leaf = 0.02 * part;
        lot.removed_h = part == 0 ? 700.0 : kNever_h;
        plan.lots.push_back(lot);
    }
    const auto c = central_pile();
    plan.covers.push_back({fleece(c), {Side::low_flank, Side::high_flank}, 100.0, 400.0});
    plan.covers.push_back({straw(c, Length(0.1)), {Side::top}, 150.0, 300.0});
    plan.covers.push_back(
        {split(plastic(c), 0.1), {Side::low_flank, Side::high_flank, Side::top}, 400.0, 600.0});
    plan.ducts.push_back({.across_m = 4.5,
                          .free_kg_s = 0.3,
                          .still_Pa = 300.0,
                          .rule = {.colder_K = 1.0, .not_below_C = -2.0},
                          .from_h = 200.0});
    return plan;
}

double owed(const Pile& pile) {
    // What carbon dioxide a step left over belongs to the pile too; see step.hpp.
    double sum = 0.0;
    for (const double kg : pile.owed_carbon_dioxide()) {
        sum += kg;
    }
    return sum;
}

void expect_closes(const Plan& plan, std::size_t hours, const RunRules& rules = {}) {
    auto made = Pile::make(plan, central_pile(), rules);
    ASSERT_TRUE(made.ok());
    auto& pile = **made;
    const double ground_before = [&] { return totals(pile).heat - pile.balance().piled; }();
    bool fan_ran = false;
    for (std::size_t k = 0; k < hours; ++k) {
        const auto done = pile.pass(autumn_hour(k, 6.0, pile.grid().sides.size()));
        ASSERT_TRUE(done.ok()) << done.problems().front().text();
        fan_ran = fan_ran || pile.ducts().front().runs;
    }
    EXPECT_TRUE(fan_ran);
    const auto& b = pile.balance();
    const auto now = totals(pile);
    const double heat_in = b.through_faces + b.by_air + b.from_ground + b.by_rain + b.breathed -
                           b.evaporated + b.piled;
    EXPECT_NEAR(now.heat - ground_before, heat_in, 1e-9 * b.heat_passed);
    const double water_in = b.vapour_in + b.rain_in - b.drained + b.dried + b.piled_water;
    EXPECT_NEAR(now.film + now.vapour, water_in, 1e-9 * (b.water_passed + b.rain_in));
    EXPECT_NEAR(now.carbon_dioxide + owed(pile),
                b.carbon_dioxide_in + b.carbon_dioxide_made + b.piled_carbon_dioxide,
                1e-9 * b.carbon_dioxide_made);
    testing::Test::RecordProperty(
        "heat",
        std::to_string(std::abs(now.heat - ground_before - heat_in) / b.heat_passed * 1e12));
    testing::Test::RecordProperty(
        "water",
        std::to_string(std::abs(now.film + now.vapour - water_in) / b.water_passed * 1e12));
    // Rain fell, air dried the beet, and most of what came in by sun and air went out by them.
    EXPECT_GT(b.rain_in, 0.0);
    EXPECT_GT(b.dried, 0.0);
    EXPECT_GT(b.carbon_dioxide_made, 0.0);
}

TEST(Balance, ClosesThroughAnEventfulAutumn) {
    expect_closes(eventful(), 900);
}

// Beets and air with temperatures of their own.
TEST(Balance, ClosesWithTwoTemperatures) {
    RunRules rules;
    rules.step.heat = HeatForm::two_temperatures;
    expect_closes(eventful(), 750, rules);
}

// A whole pile with sloping ends.
TEST(Balance, ClosesInThreeDimensions) {
    Plan plan = eventful();
    plan.shape.length = Length(14.0);
    plan.grid.cell_across = Length(0.9);
    plan.grid.cell_up = Length(0.65);
    plan.grid.cell_along = Length(1.4);
    plan.ducts.front().free_kg_s = 3.0;
    expect_closes(plan, 750);
}

// Sugar lost is heat and carbon dioxide by their fixed proportion, cell by cell and in sum.
TEST(Balance, SugarIsHeatAndCarbonDioxide) {
    auto made = Pile::make(heap(), central_pile());
    ASSERT_TRUE(made.ok());
    auto& pile = **made;
    for (std::size_t k = 0; k < 600; ++k) {
        ASSERT_TRUE(pile.pass(autumn_hour(k, 9.0, pile.grid().sides.size())).ok());
    }
    const auto& b = pile.balance();
    const auto now = totals(pile);
    const double lost = now.sugar_piled - now.sugar_left;
    EXPECT_NEAR(lost, b.sugar_lost, 1e-9 * lost);
    EXPECT_NEAR(b.breathed, 1000.0 * kHeat_J_g * lost, 1e-9 * b.breathed);
    EXPECT_NEAR(b.carbon_dioxide_made, kCarbonDioxidePerSugar * lost, 1e-9 * lost);
}

// The same bits on every run.
TEST(Balance, TheSameAgain) {
    double sugar[2] = {};
    for (double& left : sugar) {
        auto made = Pile::make(heap(0.5), central_pile());
        ASSERT_TRUE(made.ok());
        for (std::size_t k = 0; k < 200; ++k) {
            ASSERT_TRUE((*made)->pass(autumn_hour(k, 5.0, (*made)->grid().sides.size())).ok());
        }
        left = totals(**made).sugar_left;
    }
    EXPECT_EQ(sugar[0], sugar[1]);
}

}  // namespace
}  // namespace beetwright::pile
