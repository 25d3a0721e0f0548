#include "ledger/flow.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "base/catalogue.hpp"
#include "base/random.hpp"
#include "ledger/without.hpp"
#include "worth/price.hpp"

namespace beetwright::ledger {
namespace {

constexpr double kCelsius = 7.0;

pile::LumpConstants central_lump() {
    const Catalogue catalogue;
    return pile::lump_constants([&](ConstantId id) { return catalogue.value(id); });
}

pile::Exposure stored(int days, const pile::LumpConstants& constants) {
    const std::vector<double> celsius(static_cast<std::size_t>(days), kCelsius);
    return pile::exposure(celsius, constants);
}

/// Terms that pay 40 a tonne at 16 %, 1.5 % more for each tenth of a point, charge soil and haul.
worth::Price simple_price() {
    worth::Terms terms;
    terms.name = "simple";
    terms.currency = "EUR";
    terms.reference_pol = SugarContent(0.16);
    terms.base_price = MoneyPerCleanMass(0.040);
    terms.slide = {{SugarContent(0.10), SugarContent(0.22), 15.0}};
    terms.soil_charge = MoneyPerMass(0.010);
    return worth::price_on(terms, Day{}, 10e3);
}

Standing random_standing(RandomStream& random) {
    const auto between = [&](double low, double high) {
        return low + (high - low) * random.uniform();
    };
    Standing s;
    s.harvested = between(4.0, 11.0);
    s.whole_roots = between(0.0, 0.4);
    s.pieces = between(0.0, 0.2);
    s.over_topped_share = between(0.0, 0.05);
    s.tail_share = between(0.0, 0.10);
    s.pol = between(0.14, 0.20);
    s.crown_slice_sugar_ratio = between(0.6, 1.0);
    s.tail_sugar_ratio = between(0.8, 1.0);
    s.soil = between(0.0, 0.3);
    s.tops = between(0.0, 0.05);
    s.molasses = between(0.01, 0.02);
    s.molasses_of_leaf = between(0.0, 0.002);
    s.factory_loss = 0.006;
    s.condition.tail_wound = between(0.0, 0.03);
    s.condition.crown_wound = between(0.0, 0.05);
    s.condition.skin_wound = between(0.0, 0.15);
    s.condition.leaf = s.tops;
    s.condition.soil = s.soil;
    s.condition.rotten_share = between(0.0, 0.1);
    s.condition.frosted_share = between(0.0, 0.1);
    return s;
}

double sum_of_losses(const std::array<double, kLineCount>& lines) {
    double sum = 0.0;
    for (std::size_t l = 0; l < kLineCount; ++l) {
        if (!is_balance(static_cast<Line>(l))) {
            sum += lines[l];
        }
    }
    return sum;
}

TEST(LedgerFlow, ClosesInBeetSugarAndMoneyForAnyField) {
    const auto lump = central_lump();
    const auto price = simple_price();
    RandomStream random(4, "flow", "closure");
    for (int trial = 0; trial < 500; ++trial) {
        const auto standing = random_standing(random);
        Flow flow = flow_of(standing, stored(trial % 150, lump), lump, price);
        // Ten significant decimals of a standing crop of about 8 kg of beet, 1.4 kg of sugar.
        EXPECT_NEAR(flow.mass_of(Line::standing_crop) - sum_of_losses(flow.mass),
                    flow.mass_of(Line::recovered), 1e-12);
        EXPECT_NEAR(flow.sugar_of(Line::standing_crop) - sum_of_losses(flow.sugar),
                    flow.sugar_of(Line::recovered), 1e-12);
        EXPECT_NEAR(flow.money_of(Line::standing_crop) - sum_of_losses(flow.money),
                    flow.money_of(Line::paid), 1e-12);
    }
}

TEST(LedgerFlow, WithNothingLostDeliversWhatStood) {
    Standing perfect;
    perfect.harvested = 8.0;
    perfect.pol = 0.18;
    const auto lump = central_lump();
    Flow flow = flow_of(perfect, stored(0, lump), lump, simple_price());
    EXPECT_EQ(flow.mass_of(Line::recovered), 8.0);
    EXPECT_NEAR(flow.sugar_of(Line::recovered), 8.0 * 0.18, 1e-15);
    EXPECT_NEAR(flow.sugar_of(Line::standing_crop), 8.0 * 0.18, 1e-15);
    EXPECT_EQ(flow.sugar_of(Line::storage_breathing), 0.0);
}

TEST(LedgerFlow, LosesNothingInStorageThatIsNotGiven) {
    const auto lump = central_lump();
    RandomStream random(5, "flow", "signs");
    for (int trial = 0; trial < 200; ++trial) {
        const Flow flow =
            flow_of(random_standing(random), stored(1 + trial % 150, lump), lump, simple_price());
        for (std::size_t l = 0; l < kLineCount; ++l) {
            EXPECT_GE(flow.mass[l], 0.0) << words(static_cast<Line>(l));
            EXPECT_GE(flow.sugar[l], 0.0) << words(static_cast<Line>(l));
        }
    }
}

// Ordinarily lifted beet in a pile kept at 4 °C. (Where most of the beet rots anyway, a tail is
// worth less later, not more: there is no sugar left to lose.)
TEST(LedgerFlow, ABrokenTailCostsMoreInABeetSlicedLater) {
    const auto lump = central_lump();
    const auto price = simple_price();
    RandomStream random(6, "flow", "tails");
    const auto cost_after = [&](const Standing& standing, int days) {
        const std::vector<double> celsius(static_cast<std::size_t>(days), 4.0);
        const auto exposure = pile::exposure(celsius, lump);
        const auto cost = [&](const Standing& s) {
            return pay(deliver(s, exposure, lump), price).total();
        };
        return cost(without(standing, Line::tails)) - cost(standing);
    };
    for (int trial = 0; trial < 50; ++trial) {
        auto standing = random_standing(random);
        // A break of 2.9 cm: 3 % of the mass, and 6.6 cm2 of 468 open.
        standing.tail_share = 0.03;
        standing.condition = {.tail_wound = 0.014, .crown_wound = 0.025, .skin_wound = 0.03};
        const double soon = cost_after(standing, 2);
        const double late = cost_after(standing, 120);
        EXPECT_GT(soon, 0.0);
        EXPECT_GT(late, 1.1 * soon);
    }
}

TEST(LedgerFlow, UndoingALossPutsItsSugarBack) {
    // The delivered sugar without over-topping is what was delivered plus the slices' own sugar.
    const auto lump = central_lump();
    const auto exposure = stored(0, lump);
    RandomStream random(7, "flow", "undo");
    for (int trial = 0; trial < 100; ++trial) {
        const auto standing = random_standing(random);
        Flow flow = flow_of(standing, exposure, lump, simple_price());
        const auto as_is = deliver(standing, exposure, lump);
        for (const Line line : {Line::over_topping, Line::tails, Line::whole_roots, Line::pieces}) {
            auto undone = without(standing, line);
            const auto better = deliver(undone, exposure, lump);
            if (line == Line::over_topping || line == Line::tails) {
                EXPECT_NEAR(better.sugar - as_is.sugar, flow.sugar_of(line), 1e-12) << words(line);
                EXPECT_NEAR(better.mass - as_is.mass, flow.mass_of(line), 1e-12) << words(line);
            } else {
                EXPECT_GT(better.sugar, as_is.sugar) << words(line);
                EXPECT_LE(better.sugar - as_is.sugar, flow.sugar_of(line) + 1e-12) << words(line);
            }
        }
    }
}

}  // namespace
}  // namespace beetwright::ledger
