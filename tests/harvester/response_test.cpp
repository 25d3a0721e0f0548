// The words of a harvester's outcome: what is not known is loud, and sums are those of their parts.
#include "harvester/response.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace beetwright::harvester {
namespace {

TEST(Outcome, WhatNobodyReckonedIsNotANumber) {
    const Outcome outcome;
    EXPECT_TRUE(std::isnan(outcome.topping.shares.right));
    EXPECT_FALSE(outcome.topping.over_topped.is_known());
    EXPECT_TRUE(std::isnan(outcome.tails.broken_from(0)));
    EXPECT_TRUE(std::isnan(outcome.whole_roots.lost_through_guards));
    EXPECT_FALSE(outcome.cleaning.soil_on_beets.is_known());
    EXPECT_FALSE(outcome.work.fuel.is_known());
    EXPECT_FALSE(Conditions{}.standing().is_known());
}

// 80,000 beets of 1.0 kg on a hectare: 80 t/ha.
TEST(Conditions, BeetsTimesMassStand) {
    Conditions conditions;
    conditions.roots.beets = 80000.0 / unit::ha;
    conditions.roots.mean_mass = kilograms<CleanMass>(1.0);
    EXPECT_NEAR(conditions.standing() / unit::t_clean_per_ha, 80.0, 1e-12);
}

TEST(Tails, AddUpOverPlacesAndWiderClasses) {
    TailOutcome tails;
    tails.share = {{{0.10, 0.05, 0.02, 0.01, 0.0},
                    {0.06, 0.03, 0.0, 0.0, 0.0},
                    {0.02, 0.01, 0.0, 0.0, 0.005}}};
    EXPECT_NEAR(tails.broken_from(0), 0.305, 1e-15);
    EXPECT_NEAR(tails.broken_from(1), 0.125, 1e-15);  // over 2 cm
    EXPECT_NEAR(tails.broken_from(4), 0.005, 1e-15);  // over 8 cm
    EXPECT_EQ(tails.broken_from(kBreakClasses), 0.0);
}

}  // namespace
}  // namespace beetwright::harvester
