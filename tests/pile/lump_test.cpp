// The lump against closed forms, and its bounds for any beet. What was published is held against it
// in lump_published_test.cpp.
#include "pile/lump.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "pile/loads.hpp"

namespace beetwright::pile {
namespace {

// --- exposure against closed forms --------------------------------------------------------------

// At a steady T above zero with theta = T t: breathing = r t; healing = r (theta_w/T)(1 - exp(-T
// t/theta_w)); rotting = r (T t - theta_0)^2 / (2 T) / 100.
void expect_steady_closed_form(const Exposure& e, double celsius, double days,
                               const LumpConstants& c) {
    const double rate = c.basal_at_5C * std::pow(c.q10, 0.1 * (celsius - 5.0));
    const double theta = celsius * days;
    EXPECT_NEAR(e.breathing, rate * days, 1e-12 * rate * days);
    const double healing =
        rate * c.healing_time / celsius * (1.0 - std::exp(-theta / c.healing_time));
    EXPECT_NEAR(e.healing, healing, 1e-10 * healing);
    const double beyond = std::max(0.0, theta - c.rot_onset);
    const double rotting = rate * beyond * beyond / (2.0 * celsius) / 100.0;
    EXPECT_NEAR(e.rotting, rotting, 1e-10 * (rotting + rate));
    EXPECT_NEAR(e.thermal_time, theta, 1e-9);
}

TEST(LumpExposure, IsExactAtASteadyTemperature) {
    const auto c = central();
    for (const double celsius : {0.5, 3.0, 8.0, 14.0}) {
        for (const int days : {1, 20, 150}) {
            expect_steady_closed_form(exposure(steady(celsius, days), c), celsius, days, c);
        }
    }
}

TEST(LumpExposure, CountsThePartOfTheLastDayAndStepsOfAnyLength) {
    const auto c = central();
    expect_steady_closed_form(exposure(steady(6.0, 71), c, {.last_share = 0.25}), 6.0, 70.25, c);
    expect_steady_closed_form(exposure(steady(6.0, 1), c, {.last_share = 0.5}), 6.0, 0.5, c);
    expect_steady_closed_form(exposure(steady(6.0, 24 * 60), c, {.days = 1.0 / 24.0}), 6.0, 60.0,
                              c);
    // None of the last day is one day fewer.
    const auto none = exposure(steady(6.0, 60), c, {.last_share = 0.0});
    EXPECT_EQ(none.breathing, exposure(steady(6.0, 59), c).breathing);
    EXPECT_EQ(exposure({}, c).breathing, 0.0);
}

// Beets of one lifting, sliced on different days: each is as if it had been walked alone.
TEST(LumpExposure, OfSeveralSlicingDaysIsThatOfEach) {
    const auto c = central();
    std::vector<double> celsius;
    for (int day = 0; day < 90; ++day) {
        celsius.push_back(6.0 - 9.0 * std::sin(0.1 * day));  // below freezing twice
    }
    const std::vector<std::size_t> days{0, 1, 17, 17, 60, 90};
    std::vector<Exposure> after(days.size());
    exposures(celsius, c, days, after);
    for (std::size_t k = 0; k < days.size(); ++k) {
        const auto alone = exposure(std::span(celsius).first(days[k]), c);
        EXPECT_EQ(after[k].breathing, alone.breathing);
        EXPECT_EQ(after[k].healing, alone.healing);
        EXPECT_EQ(after[k].rotting, alone.rotting);
        EXPECT_EQ(after[k].thawed, alone.thawed);
        EXPECT_EQ(after[k].thermal_time, alone.thermal_time);
    }
    EXPECT_GT(after.back().thawed, 0.0);
}

// Means over ever finer steps of a smooth season: the error of treating a step as steady falls with
// the square of its length.
TEST(LumpExposure, ConvergesWithTheSquareOfTheStep) {
    const auto c = central();
    const auto with_steps_per_day = [&](int steps) {
        std::vector<double> celsius;
        for (int i = 0; i < 96 * steps; ++i) {
            const double t = (i + 0.5) / steps;
            celsius.push_back(8.0 + 4.0 * std::sin(2.0 * std::numbers::pi * t / 24.0));
        }
        return exposure(celsius, c, {.days = 1.0 / steps});
    };
    const auto exact = with_steps_per_day(64);
    for (double Exposure::*part : {&Exposure::healing, &Exposure::rotting}) {
        const auto error = [&](int steps) {
            return std::abs(with_steps_per_day(steps).*part - exact.*part);
        };
        const double order = std::log2(error(1) / error(2));
        EXPECT_GT(order, 1.8);
        EXPECT_LT(order, 2.2);
    }
}

// Breathing of T = 5 + 3 sin over a whole number of waves: the mean of exp(a sin) is the Bessel
// function I0(a), a = 0.3 ln Q10. Hourly steps meet it to 1e-10 because the wave is periodic.
TEST(LumpExposure, OfAWaveOfTemperatureBreathesByTheBesselFunction) {
    const auto c = central();
    std::vector<double> celsius;
    for (int hour = 0; hour < 24 * 20; ++hour) {
        celsius.push_back(5.0 + 3.0 * std::sin(2.0 * std::numbers::pi * (hour + 0.5) / 24.0));
    }
    const double expected = 20.0 * c.basal_at_5C * std::cyl_bessel_i(0.0, 0.3 * std::log(c.q10));
    EXPECT_NEAR(exposure(celsius, c, {.days = 1.0 / 24.0}).breathing, expected, 1e-10 * expected);
}

TEST(LumpExposure, CountsNoThermalTimeBelowZeroAndNoBreathingWhenFrozen) {
    const auto c = central();
    const auto cold = exposure(steady(-1.0, 30), c);
    EXPECT_EQ(cold.thermal_time, 0.0);
    EXPECT_GT(cold.breathing, 0.0);
    EXPECT_EQ(cold.thawed, 0.0);
    const auto frozen = exposure(steady(-6.0, 30), c);
    EXPECT_EQ(frozen.breathing, 0.0);
    EXPECT_EQ(frozen.rotting, 0.0);
}

TEST(LumpExposure, FrostHurtsOnlyOnceItThaws) {
    const auto c = central();
    auto series = steady(-5.0, 10);
    EXPECT_EQ(exposure(series, c).thawed, 0.0);
    series.insert(series.end(), 20, 4.0);
    const auto thawed = exposure(series, c);
    EXPECT_NEAR(thawed.thawed, 20.0 * basal_rate(4.0, c) * frost_damage(-5.0, c), 1e-12);
    // A second frost that is milder hurts nothing more.
    series.insert(series.begin() + 12, -2.0);
    EXPECT_NEAR(exposure(series, c).thawed, thawed.thawed, 1e-15);
}

TEST(LumpBasalRate, IsTheSameInBothItsUnits) {
    const auto c = central();
    const auto typed = basal_rate(Temperature::celsius(12.0), c);
    EXPECT_NEAR(typed / unit::g_per_t_day, 1e6 * basal_rate(12.0, c), 1e-9);
    EXPECT_NEAR(basal_rate(5.0, c), c.basal_at_5C, 1e-18);
}

// --- losses of any beet -------------------------------------------------------------------------

LumpCondition random_condition(RandomStream& random) {
    return {.tail_wound = 0.05 * random.uniform(),
            .crown_wound = 0.05 * random.uniform(),
            .skin_wound = 0.2 * random.uniform(),
            .leaf = 0.05 * random.uniform(),
            .soil = 0.3 * random.uniform(),
            .rotten_share = 0.2 * random.uniform(),
            .frosted_share = 0.2 * random.uniform()};
}

constexpr std::array kHarms{&LumpCondition::tail_wound,   &LumpCondition::crown_wound,
                            &LumpCondition::skin_wound,   &LumpCondition::leaf,
                            &LumpCondition::soil,         &LumpCondition::rotten_share,
                            &LumpCondition::frosted_share};
constexpr std::array kCauses{&LumpLoss::breathing,     &LumpLoss::tail_wounds,
                             &LumpLoss::crown_wounds,  &LumpLoss::skin_wounds,
                             &LumpLoss::leaf_and_soil, &LumpLoss::rot_and_frost};

/// What would be lost if there were no end of sugar: the rate's causes, unlimited.
LumpLoss demand_of(const Exposure& e, const LumpCondition& beet, const LumpConstants& c) {
    return lump_loss(e, beet, c, 1e12);
}

TEST(LumpLoss, NeverTakesMoreSugarThanThereIsNorLessThanNone) {
    const Catalogue catalogue;
    for (std::uint64_t trial = 0; trial < 500; ++trial) {
        RandomStream random(9, "lump bounds", trial);
        const auto c = lump_constants(
            [&](ConstantId id) { return catalogue.at_score(id, 2.0 * random.normal()); });
        const auto e = exposure(steady(-5.0 + 25.0 * random.uniform(), 200), c);
        const auto loss = lump_loss(e, random_condition(random), c, kPol);
        for (double LumpLoss::*cause : kCauses) {
            EXPECT_GE(loss.*cause, 0.0);
        }
        EXPECT_LE(loss.total(), kPol * (1.0 + 1e-12));  // six causes, each rounded
    }
}

// The rate is in proportion to the sugar left, so d ln s = -d(demand)/s0 and the total is
// s0 (1 - exp(-demand/s0)); each cause keeps its share of the demand.
TEST(LumpLoss, SaturatesExponentiallyAndSharesTheLossInProportion) {
    for (std::uint64_t trial = 0; trial < 300; ++trial) {
        RandomStream random(11, "lump additivity", trial);
        const auto c = drawn(random);
        const auto beet = random_condition(random);
        const auto e = exposure(steady(1.0 + 12.0 * random.uniform(), 150), c);
        const double pol = 0.14 + 0.06 * random.uniform();
        const auto demand = demand_of(e, beet, c);
        const auto loss = lump_loss(e, beet, c, pol);
        const double total = pol * (1.0 - std::exp(-demand.total() / pol));
        EXPECT_NEAR(loss.total(), total, 1e-12 * pol);
        double sum = 0.0;
        for (double LumpLoss::*cause : kCauses) {
            sum += loss.*cause;
            EXPECT_NEAR(loss.*cause / loss.total(), demand.*cause / demand.total(), 1e-9);
        }
        EXPECT_EQ(sum, loss.total());  // the same six, in the same order: to the last bit
    }
}

// The sugar left over a stay is what is left of what was left, when the demands add: a stay in two
// parts, the second taken as the rest of the exposure, ends where the whole one does.
TEST(LumpLoss, OfAStayInTwoPartsIsThatOfTheWhole) {
    const auto c = central();
    for (const int first : {1, 40, 99}) {
        const auto whole = exposure(steady(7.0, 100), c);
        const auto before = exposure(steady(7.0, first), c);
        const Exposure after{.breathing = whole.breathing - before.breathing,
                             .healing = whole.healing - before.healing,
                             .rotting = whole.rotting - before.rotting,
                             .thawed = 0.0,
                             .thermal_time = whole.thermal_time};
        const double left_first = kPol - lump_loss(before, ordinary(), c, kPol).total();
        // The second part's rate starts at the share of the sugar that is left.
        const double kept = 1.0 - lump_loss(after, ordinary(), c, kPol).total() / kPol;
        EXPECT_NEAR(left_first * kept, kPol - lump_loss(whole, ordinary(), c, kPol).total(), 1e-14);
    }
}

// Causes add inside the rate: harms of two loads, added, demand what the loads demand one by one.
TEST(LumpLoss, CausesAddInsideTheRate) {
    const auto c = central();
    const auto e = exposure(steady(6.0, 100), c);
    for (std::uint64_t trial = 0; trial < 100; ++trial) {
        RandomStream random(12, "lump causes", trial);
        const auto one = random_condition(random);
        const auto other = random_condition(random);
        LumpCondition both;
        for (double LumpCondition::*harm : kHarms) {
            both.*harm = one.*harm + other.*harm;
        }
        const double none = demand_of(e, {}, c).total();
        EXPECT_NEAR(demand_of(e, both, c).total() - none,
                    demand_of(e, one, c).total() + demand_of(e, other, c).total() - 2.0 * none,
                    1e-9);
    }
}

TEST(LumpLoss, GrowsWithEveryHarmAndEveryDayAndEveryDegree) {
    const auto c = central();
    for (std::uint64_t trial = 0; trial < 100; ++trial) {
        RandomStream random(10, "lump growth", trial);
        const auto beet = random_condition(random);
        const auto days = 10 + static_cast<int>(random.below(150));
        const double celsius = 1.0 + 8.0 * random.uniform();
        const double as_is = loss_at(celsius, days, beet, c);
        EXPECT_GT(loss_at(celsius, days + 1, beet, c), as_is);
        for (double LumpCondition::*harm : kHarms) {
            auto worse = beet;
            worse.*harm += 0.05;
            EXPECT_GT(loss_at(celsius, days, worse, c), as_is);
        }
        // Warmth heals sooner but breathes more: for sound beet it only costs.
        EXPECT_GT(loss_at(celsius + 1.0, days, {}, c), loss_at(celsius, days, {}, c));
    }
}

// The wound of a cause shows in that cause alone, save that all share the sugar there is.
TEST(LumpLoss, BlamesEachHarmOnItsOwnCause) {
    const auto c = central();
    const auto e = exposure(steady(6.0, 100), c);
    const auto base = demand_of(e, ordinary(), c);
    auto worse = ordinary();
    worse.tail_wound *= 2.0;
    const auto tails = demand_of(e, worse, c);
    EXPECT_NEAR(tails.tail_wounds, 2.0 * base.tail_wounds, 1e-12);
    for (double LumpLoss::*cause : kCauses) {
        if (cause != &LumpLoss::tail_wounds) {
            EXPECT_NEAR(tails.*cause, base.*cause, 1e-12);
        }
    }
}

TEST(LumpLoss, OfNoTimeIsNothing) {
    const auto c = central();
    EXPECT_EQ(lump_loss(exposure({}, c), ordinary(), c, kPol).total(), 0.0);
}

TEST(LumpLoss, OfASmallDemandIsTheDemandItself) {
    const auto c = central();
    const auto e = exposure(steady(5.0, 1), c);
    const auto loss = lump_loss(e, {}, c, 1e6);
    EXPECT_NEAR(loss.breathing, e.breathing, 1e-9 * e.breathing);
}

}  // namespace
}  // namespace beetwright::pile
