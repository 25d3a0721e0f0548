// What to change, what to look at and how to enter a field, on money that is easy to reckon.
#include "harvester/advice.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "harvester/belief.hpp"
#include "harvester/entry.hpp"
#include "harvester/next_look.hpp"
#include "harvester_fixture.hpp"
#include "simulated_look.hpp"

namespace beetwright::harvester {
namespace {

constexpr std::size_t kDraws = 200;
constexpr double kLeastGain = 2e-4;
const SightConstants kSight = sight_constants(kCatalogue, usual_losses());

/// Beet at 35 a tonne less what is broken, cut and lost, soil at 16 a tonne, torn skin at 6 a
/// square centimetre and hectare, long stalks at 3 % of all for each tenth over 15 %, an hour at
/// 150.
Earned simple_worth(const Outcome& out, std::size_t /*draw*/) {
    constexpr std::array kTails{0.002, 0.03, 0.09, 0.195, 0.35};
    double lost = out.whole_roots.mass / out.standing;
    for (const auto& place : out.tails.share) {
        for (std::size_t c = 0; c < kTails.size(); ++c) {
            lost += place[c] * kTails[c];
        }
    }
    lost += 7.1 * out.topping.shares.too_deep * out.topping.over_topped.si();
    const double tonnes = out.standing.si() * 1e-3;
    Earned earned;
    earned.paid = 35.0 * tonnes * (1.0 - lost) - 16.0 * tonnes * figure(out, Figure::soil) -
                  2.0e-4 * 1e4 * out.cleaning.torn_skin.si();
    earned.risk = 35.0 * tonnes * std::max(out.topping.stalks_over_2cm - 0.15, 0.0);
    earned.fuel = 1200.0 * out.work.fuel.si();
    earned.time = 150.0 / 3600.0 / figure(out, Figure::area_rate);
    return earned;
}
const Worth kWorth = simple_worth;

std::vector<double> prior_draws() {
    return Belief(kCatalogue).draws(kDraws, 1);
}
Advice advice_for(const Settings& settings, const Belief& belief, const KeptOff& kept_off = {},
                  const Conditions& conditions = usual_conditions()) {
    const auto draws = belief.draws(kDraws, 1);
    const auto advice =
        advise(settings, {kMachine, conditions, kCatalogue, draws, kWorth}, kept_off, kLeastGain);
    EXPECT_TRUE(advice.ok());
    return *advice;
}
bool changes(const Tried& tried, std::string_view control) {
    return std::ranges::any_of(tried.changes, [&](const Change& change) {
        return std::ranges::find(change.controls, control) != change.controls.end();
    });
}
const Change* change_of(const Advice& advice, std::string_view control) {
    if (!advice.change) {
        return nullptr;
    }
    for (const Change& change : advice.change->changes) {
        if (std::ranges::find(change.controls, control) != change.controls.end()) {
            return &change;
        }
    }
    return nullptr;
}

/// A day's counts of a machine that works as it is thought to, but for shares that break many
/// tails.
Belief after_counts(const Settings& settings, double lifting, double cleaning) {
    Belief belief(kCatalogue);
    belief.enter("field");
    const auto s = situation(kMachine, settings, usual_conditions(), kCatalogue);
    auto truth = predictors(*s, prior_means());
    truth[static_cast<std::size_t>(Predictor::break_lifting)] += lifting;
    truth[static_cast<std::size_t>(Predictor::break_cleaning)] += cleaning;
    RandomStream random(4, "counts");
    for (int check = 0; check < 3; ++check) {
        belief.learn(simulated_look(random, truth, *s, kSight, {.crowns = 0, .tails = 60},
                                    SeenOnTheWay::before_cleaning),
                     *s, kSight);
        belief.learn(
            simulated_look(random, truth, *s, kSight,
                           {.crowns = 60, .tails = 60, .skins = 20, .strip_m2 = 10.0, .tares = 2}),
            *s, kSight);
    }
    return belief;
}

TEST(Advice, ShallowSharesAreDeepened) {
    const Settings shallow = settings_with({{"share.depth", 0.055}});
    const auto advice = advice_for(shallow, after_counts(shallow, 1.0, -1.5));
    const Change* change = change_of(advice, "share.depth");
    ASSERT_NE(change, nullptr);
    EXPECT_GT(change->to, change->from);
}

TEST(Advice, TurbinesThatRunThinAreSlowed) {
    const Settings thin = settings_with(turbines_at(75.0));
    const auto advice = advice_for(thin, after_counts(thin, -1.5, 0.7));
    const Change* change = change_of(advice, "turbine_1.speed");
    ASSERT_NE(change, nullptr);
    EXPECT_LT(change->to, change->from);
    EXPECT_EQ(change_of(advice, "share.depth"), nullptr);
}

TEST(Advice, KeepsOffWhatIsPinnedOrWasDeclined) {
    const Settings shallow = settings_with({{"share.depth", 0.055}});
    const Belief belief = after_counts(shallow, 1.0, -1.5);
    const auto pinned = advice_for(shallow, belief, {.pinned = {"share.depth"}, .declined = {}});
    EXPECT_EQ(change_of(pinned, "share.depth"), nullptr);
    for (const Tried& other : pinned.others) {
        EXPECT_FALSE(changes(other, "share.depth"));
    }
    const auto declined = advice_for(
        shallow, belief, {.pinned = {}, .declined = {{.control = "share.depth", .upwards = true}}});
    const Change* change = change_of(declined, "share.depth");
    EXPECT_TRUE(change == nullptr || change->to < change->from);
}

TEST(Advice, GoesNoFartherAtOnceThanItMay) {
    const Settings shallow = settings_with({{"share.depth", 0.050}});
    const auto advice = advice_for(shallow, after_counts(shallow, 1.5, -1.5));
    ASSERT_TRUE(advice.change);
    EXPECT_LE(advice.change->changes.size(), 2U);
    for (const Change& change : advice.change->changes) {
        const Control& control = *kMachine.find(change.controls.front());
        if (!traits(control.kind).is_choice()) {
            EXPECT_LE(std::abs(change.to - change.from),
                      (0.4 + 1e-6) * (control.most - control.least) + control.step);
        }
        EXPECT_TRUE(check(advice.change->settings, kMachine).empty());
    }
}

// One control at a time until none gains: what is left to advise is nothing.
TEST(Advice, LeavesTheBestSettingsAsTheyAre) {
    Settings settings = usual_settings(kMachine);
    const Belief belief(kCatalogue);
    for (int round = 0; round < 40; ++round) {
        const auto advice = advice_for(settings, belief);
        if (!advice.change) {
            return;
        }
        settings = advice.change->settings;
    }
    FAIL() << "advice goes round in circles";
}

TEST(Advice, GainsAreOverWhatStandsInTheSameDraws) {
    const Settings settings = settings_with({{"share.depth", 0.055}});
    const auto draws = prior_draws();
    const Ground ground{kMachine, usual_conditions(), kCatalogue, draws, kWorth};
    const auto advice = advise(settings, ground, {}, kLeastGain);
    ASSERT_TRUE(advice->change);
    const auto before = prospect(settings, ground);
    const auto after = prospect(advice->change->settings, ground);
    double gain = 0.0;
    for (std::size_t i = 0; i < kDraws; ++i) {
        gain += (after->earned[i].total() - before->earned[i].total()) / kDraws;
    }
    EXPECT_NEAR(advice->change->gain.value, gain, 1e-12);
    EXPECT_LE(advice->change->gain.low, gain);
    EXPECT_GE(advice->change->gain.high, gain);
}

// Shares that are too shallow for sure, and a lower drop that is a lottery: it gains on the mean,
// by winning much now and then.
TEST(Advice, APairHoldsNoChangeThatWouldNotBeAdvisedBesideTheOther) {
    const Settings settings = settings_with({{"share.depth", 0.055}});
    const auto draws = prior_draws();
    const Worth lottery = [](const Outcome& out, std::size_t draw) {
        Earned earned;
        earned.paid = -0.2 * figure(out, Figure::tails_broken) +
                      (draw % 10 < 4 ? -60.0 : 20.0) * out.cleaning.torn_skin.si();
        return earned;
    };
    const Ground ground{kMachine, usual_conditions(), kCatalogue, draws, lottery};
    KeptOff others;
    for (const Control& control : kMachine.controls) {
        if (control.kind != ControlKind::share_depth &&
            control.kind != ControlKind::unloading_drop) {
            others.pinned.push_back(control.id());
        }
    }
    const auto advice = advise(settings, ground, others, kLeastGain);
    const auto drop = std::ranges::find_if(
        advice->others, [](const Tried& one) { return changes(one, "bunker.drop"); });
    ASSERT_NE(drop, advice->others.end());
    EXPECT_GT(drop->gain.value, kLeastGain);
    EXPECT_LT(drop->chance_better, 0.5);
    ASSERT_TRUE(advice->change);
    EXPECT_EQ(advice->change->changes.size(), 1U);
    EXPECT_TRUE(changes(*advice->change, "share.depth"));
}

TEST(Advice, WhatIsToldOfDrawsHoldsItsMean) {
    std::vector<double> draws(100, 1.0);
    draws[7] = 1000.0;  // one in a hundred carries the mean beyond 95 of them
    const auto told = summary(draws);
    EXPECT_NEAR(told.value, 10.99, 1e-9);
    EXPECT_EQ(told.low, 1.0);
    EXPECT_EQ(told.high, told.value);
    draws[7] = -1000.0;
    EXPECT_EQ(summary(draws).low, summary(draws).value);
    EXPECT_EQ(summary(draws).high, 1.0);
}

TEST(Advice, FiguresHaveIntervals) {
    const auto advice = advice_for(usual_settings(kMachine), Belief(kCatalogue));
    ASSERT_TRUE(advice.change);
    for (const Figures* told : {&advice.now, &advice.change->figures}) {
        for (std::size_t f = 0; f < kFigures; ++f) {
            const auto figure = static_cast<Figure>(f);
            const Estimate<double>& one = (*told)[f];
            EXPECT_LE(one.low, one.value) << traits(figure).key;
            EXPECT_GE(one.high, one.value) << traits(figure).key;
            // How fast it goes, and on how much fuel, follows from the settings alone.
            const bool is_work = figure == Figure::area_rate || figure == Figure::fuel;
            EXPECT_EQ(one.low < one.high, !is_work) << traits(figure).key;
        }
    }
}

// --- Looks ---------------------------------------------------------------------------------------

// Gains that go straight with the logarithm of soil, which a tare sample shows with a known error.
// Then what is expected after it is normal, and E max(x, 0) has a closed form.
TEST(NextLook, ATareIsWorthWhatTheClosedFormSays) {
    constexpr std::size_t kMany = 4000;
    const auto draws = Belief(kCatalogue).draws(kMany, 1);
    const Situation s = situation_of();
    Tried change;
    double mean = 0.0;
    double square = 0.0;
    for (std::size_t i = 0; i < kMany; ++i) {
        const auto z = predictors(s, std::span(draws).subspan(i * kParameters, kParameters));
        const double soil =
            std::log(std::exp(z[static_cast<std::size_t>(Predictor::sticking_soil)]) +
                     std::exp(z[static_cast<std::size_t>(Predictor::loose_soil)]));
        change.gains.push_back(soil);
        mean += soil / kMany;
        square += soil * soil / kMany;
    }
    for (double& gain : change.gains) {
        gain -= mean + 0.1;  // a little loss on the mean: now it would be left
    }
    change.gain.value = -0.1;
    const double variance = square - mean * mean;
    const double after = variance / std::sqrt(variance + kSight.tare_cv * kSight.tare_cv);
    const double score = -0.1 / after;
    const double expected = after * (std::exp(-0.5 * score * score) / std::sqrt(2.0 * M_PI) +
                                     score * normal_cdf(score));
    const Ground ground{kMachine, usual_conditions(), kCatalogue, draws, kWorth};
    const auto looks = worth_of_looks(s, ground, {&change, 1}, kSight, 1);
    const auto tare = std::ranges::find(looks, LookAt::tare, &WorthOfLook::look);
    EXPECT_NEAR(tare->worth, expected, 0.06 * expected);
    EXPECT_EQ(looks.front().look, LookAt::tare);
    // No look is worth more than knowing all.
    double all = 0.0;
    for (const double gain : change.gains) {
        all += std::max(gain, 0.0) / kMany;
    }
    for (const WorthOfLook& look : looks) {
        EXPECT_LE(look.worth, all);
        EXPECT_GE(look.worth, 0.0);
    }
}

// --- Entry ---------------------------------------------------------------------------------------

double entered(const Conditions& conditions, std::string_view control) {
    static const auto draws = prior_draws();
    const auto entry = entry_settings({kMachine, conditions, kCatalogue, draws, kWorth}, KeptOff{});
    EXPECT_TRUE(entry.ok());
    return *entry->settings.find(control);
}
double share_of_range(const Conditions& conditions, std::string_view control) {
    const Control& of = *kMachine.find(control);
    return (entered(conditions, control) - of.least) / (of.most - of.least);
}

// Common practice, no source: dry, the bed close to the ground, shares deep, rolls seldom above 60
// to 70 % of their range, closed guards; wet, bed and shares high in their range, rolls faster,
// tined guards.
TEST(Entry, DryAndWetFieldsAreEnteredAsCrewsDo) {
    const Conditions dry = usual_conditions(SoilFeel::hard);
    const Conditions wet = usual_conditions(SoilFeel::sticky);
    EXPECT_LT(entered(dry, "roller_bed.height"), entered(wet, "roller_bed.height"));
    EXPECT_LT(share_of_range(dry, "roller_bed.height"), 0.35);
    EXPECT_GT(share_of_range(wet, "roller_bed.height"), 0.5);
    EXPECT_GT(entered(dry, "share.depth"), entered(wet, "share.depth"));
    EXPECT_LE(share_of_range(dry, "roller_bed.speed"), 0.7);
    EXPECT_GT(share_of_range(wet, "roller_bed.speed"), 0.75);
    EXPECT_EQ(entered(dry, "turbine_1.guard"), static_cast<double>(Guard::closed));
    EXPECT_EQ(entered(wet, "turbine_1.guard"), static_cast<double>(Guard::tined));
}

// Common practice, no source: in deep mud with large beets guards are raised by 75 to 100 mm.
TEST(Entry, GuardsAreRaisedForLargeBeetsInMud) {
    Conditions large = usual_conditions(SoilFeel::sticky);
    large.roots.mean_mass = CleanMass(1.3);
    large.roots.beets = BeetsPerArea(5.4);
    large.crowns.spacing = Length(1.0 / (5.4 * 0.5));
    EXPECT_GE(entered(large, "turbine_1.clearance"), 0.095);
    EXPECT_GT(entered(large, "turbine_1.clearance"),
              entered(usual_conditions(SoilFeel::hard), "turbine_1.clearance"));
}

// Common practice, no source: 800 to 900 rpm in sound leaf, up to 1200 in limp; crowns 125 to 150
// mm out of the ground want the leaf remover about the middle of its range; on knolls it goes
// higher.
TEST(Entry, TheLeafRemoverGoesByLeafAndCrowns) {
    const Conditions sound = usual_conditions();
    EXPECT_GE(entered(sound, "leaf_remover.speed") * 60.0, 790.0);
    EXPECT_LE(entered(sound, "leaf_remover.speed") * 60.0, 910.0);
    Conditions limp = sound;
    limp.leaf.frozen_share = 1.0;
    EXPECT_GE(entered(limp, "leaf_remover.speed"),
              entered(sound, "leaf_remover.speed") + 100.0 / 60.0);
    EXPECT_LE(entered(limp, "leaf_remover.height"), entered(sound, "leaf_remover.height"));
    Conditions high = sound;
    high.crowns.mean = Length(0.1375);
    EXPECT_GT(share_of_range(high, "leaf_remover.height"), 0.4);
    EXPECT_LT(share_of_range(high, "leaf_remover.height"), 0.75);
    EXPECT_GT(entered(high, "leaf_remover.height"), entered(sound, "leaf_remover.height"));
}

// Set as it is said for the entry, and nothing seen since: there is nothing to change.
TEST(Entry, LeavesNothingToAdvise) {
    static const auto draws = prior_draws();
    for (const SoilFeel feel : {SoilFeel::hard, SoilFeel::crumbly, SoilFeel::sticky}) {
        for (const double height_m : {0.03, 0.06, 0.09}) {
            Conditions conditions = usual_conditions(feel);
            conditions.crowns.mean = Length(height_m);
            const Ground ground{kMachine, conditions, kCatalogue, draws, kWorth};
            const auto entry = entry_settings(ground, {});
            const KeptOff nothing_seen{.pinned = {}, .declined = {}, .is_begun = false};
            const auto advice = advise(entry->settings, ground, nothing_seen, kLeastGain);
            EXPECT_FALSE(advice->change) << static_cast<int>(feel) << ' ' << height_m << ": "
                                         << advice->change->changes.front().controls.front()
                                         << " gains " << 1e4 * advice->change->gain.value;
        }
    }
}

TEST(Entry, BeginsNoFasterThanUsualAndLeavesPinsAlone) {
    const auto draws = prior_draws();
    const Ground ground{kMachine, usual_conditions(SoilFeel::sticky), kCatalogue, draws, kWorth};
    const auto free = entry_settings(ground, {});
    EXPECT_LE(*free->settings.find("driving.speed"), kMachine.find("driving.speed")->usual);
    EXPECT_TRUE(check(free->settings, kMachine).empty());
    const auto pinned = entry_settings(ground, {.pinned = {"roller_bed.height"}, .declined = {}});
    EXPECT_EQ(*pinned->settings.find("roller_bed.height"),
              kMachine.find("roller_bed.height")->usual);
    for (const Reason& reason : free->reasons) {
        EXPECT_NE(reason.value, reason.usual);
    }
}

}  // namespace
}  // namespace beetwright::harvester
