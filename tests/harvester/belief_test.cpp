// What is learned of a machine: against R, against a long chain, by calibration; what goes with
// what, and what is forgotten.
#include "harvester/belief.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

#include "harvester_fixture.hpp"
#include "oracle.hpp"
#include "simulated_look.hpp"

namespace beetwright::harvester {
namespace {

const SightConstants kSight = sight_constants(kCatalogue, usual_losses());
constexpr double kCm = 0.01;

std::size_t place_of(ConstantId constant) {
    const auto found = std::ranges::find(parameters(), constant, &Parameter::constant);
    return static_cast<std::size_t>(found - parameters().begin());
}
std::size_t level_of(ConstantId constant) {
    const auto found = std::ranges::find(levels(), place_of(constant));
    return static_cast<std::size_t>(found - levels().begin());
}
/// A catalogue in which this is all but unknown, or known to a hair.
void put(Catalogue& catalogue, const char* id, double value, double low, double high) {
    ASSERT_TRUE(catalogue.replace(id, value, low, high).ok()) << id;
}

// --- Against R -----------------------------------------------------------------------------------

Look broken_at(const std::array<double, 6>& counts) {
    Look look;
    look.where = SeenOnTheWay::before_cleaning;
    look.breaks.push_back({Length::zero(), Length::zero(), counts[0]});
    for (std::size_t c = 1; c < counts.size(); ++c) {
        const double from = 2.0 * kCm * static_cast<double>(c - 1);
        look.breaks.push_back({Length(from),
                               Length(c + 1 == counts.size() ? HUGE_VAL : from + 2.0 * kCm),
                               counts[c]});
    }
    return look;
}

// Classes of breaks at six depths: the same maximum and curvature as R's ordered regression with
// equidistant thresholds (package ordinal, clm), once priors say next to nothing.
TEST(BeliefAgainstR, OrderedRegression) {
    Catalogue open;
    put(open, "harvester.break_lifting", -0.6, -60.0, 58.8);
    put(open, "harvester.break_shallow", 0.45, -40.0, 40.9);
    put(open, "harvester.break_slope", 0.58, 0.02, 16.82);
    put(open, "harvester.spread_of_fields", 1e-4, 1e-4, 1e-4);
    put(open, "harvester.spread_of_checks", 1e-5, 1e-5, 1e-5);
    const SightConstants sight = sight_constants(open, usual_losses());
    constexpr std::array<std::array<double, 6>, 6> kCounts{{{88, 62, 29, 13, 5, 3},
                                                            {101, 57, 24, 11, 5, 2},
                                                            {118, 49, 20, 9, 3, 1},
                                                            {131, 44, 16, 6, 2, 1},
                                                            {142, 38, 14, 4, 1, 1},
                                                            {150, 35, 10, 4, 1, 0}}};
    Belief belief(open);
    belief.enter("field");
    for (std::size_t i = 0; i < kCounts.size(); ++i) {
        const double depth = 0.05 + 0.01 * static_cast<double>(i);
        const auto s =
            situation(kMachine, settings_with({{"share.depth", depth}}), usual_conditions(), open);
        ASSERT_TRUE(s.ok());
        belief.learn(broken_at(kCounts[i]), *s, sight);
    }
    const Oracle r("harvester");
    const Known level = belief.parameter(place_of(ConstantId::harvester_break_lifting));
    const Known slope = belief.parameter(place_of(ConstantId::harvester_break_shallow));
    const Known fall = belief.parameter(place_of(ConstantId::harvester_break_slope));
    // One after another, each update is within a few hundredths of a standard error.
    constexpr double kOfError = 0.15;
    EXPECT_NEAR(level.mean, r.at("break at 75 mm"), kOfError * r.at("break at 75 mm se"));
    EXPECT_NEAR(level.sd, r.at("break at 75 mm se"), kOfError * r.at("break at 75 mm se"));
    EXPECT_NEAR(kCm * slope.mean, r.at("rise with 1 cm"), kOfError * r.at("rise with 1 cm se"));
    EXPECT_NEAR(kCm * slope.sd, r.at("rise with 1 cm se"), kOfError * r.at("rise with 1 cm se"));
    const double fall_2cm = 2.0 * kCm * std::exp(fall.mean);
    EXPECT_NEAR(fall_2cm, r.at("fall with 2 cm"), kOfError * r.at("fall with 2 cm se"));
    EXPECT_NEAR(fall_2cm * fall.sd, r.at("fall with 2 cm se"),
                kOfError * r.at("fall with 2 cm se"));
}

// Soil tares of one field after another: what is the machine's and what the field's, as R's mixed
// model has them (lme4 at the same spreads).
TEST(BeliefAgainstR, MixedModel) {
    constexpr double kWide = 30.0;
    Catalogue open;
    put(open, "harvester.sticking_soil", 6.0, 6.0 / kWide, 6.0 * kWide);
    put(open, "harvester.loose_soil", 1e-9, 0.9e-9, 1e-9 / 0.9);
    const double spread =
        prior(parameters()[place_of(ConstantId::harvester_sticking_soil)], open).sd;
    put(open, "harvester.spread_of_fields", 0.30 / spread, 0.30 / spread, 0.30 / spread);
    put(open, "harvester.spread_of_checks", 1e-6, 1e-6, 1e-6);
    const double cv = std::sqrt(std::expm1(0.35 * 0.35));
    put(open, "check.tare_cv", cv, cv, cv);
    const SightConstants sight = sight_constants(open, usual_losses());
    const auto s =
        situation(kMachine, settings_with({{"share.depth", 0.075}}), usual_conditions(), open);
    ASSERT_TRUE(s.ok());
    const std::vector<std::vector<double>> fields{
        {-2.31, -2.52, -2.24}, {-2.95, -2.71}, {-2.40}, {-3.10, -2.88, -3.02, -2.97}, {-2.15}};
    Belief belief(open);
    for (std::size_t f = 0; f < fields.size(); ++f) {
        belief.enter("field " + std::to_string(f + 1));
        for (const double tare : fields[f]) {
            Look look;
            look.tares = 1.0;
            look.tare_log_mean = tare;
            belief.learn(look, *s, sight);
        }
    }
    const Oracle r("harvester");
    const Known machine = belief.parameter(place_of(ConstantId::harvester_sticking_soil));
    EXPECT_NEAR(machine.mean, r.at("machine"), 0.01);
    EXPECT_NEAR(machine.sd, r.at("machine se"), 0.005);
    // The last field's addition; those left behind are not set right by what came after them.
    const Known last = belief.of_field(level_of(ConstantId::harvester_sticking_soil));
    EXPECT_NEAR(last.mean, r.at("field 5"), 0.01);
}

// --- Against a long chain ------------------------------------------------------------------------

// A hundred beets whose tails broke in two ways that only a prior and thirty beets more, picked up
// before the cleaning, tell apart: a posterior bent like a banana. A plain random walk of 400,000
// steps (Metropolis) over all that bears on it gives the reference.
TEST(BeliefDraws, AgreeWithALongChain) {
    const Situation s = situation_of(turbines_at(55.0));
    Look early = broken_at({22, 5, 2, 1, 0, 0});
    Look late = broken_at({48, 27, 14, 7, 3, 1});
    late.where = SeenOnTheWay::after_cleaning;
    Belief belief(kCatalogue);
    belief.enter("field");
    belief.learn(early, s, kSight);
    belief.learn(late, s, kSight);

    // The chain walks over predictors: each is normal before, since it is a sum of such.
    const std::array touched{Predictor::break_lifting, Predictor::break_cleaning,
                             Predictor::break_slope};
    Belief before(kCatalogue);
    before.enter("field");
    std::array<Known, 3> priors;
    for (std::size_t p = 0; p < touched.size(); ++p) {
        priors[p] = before.predictor(touched[p], s);
    }
    const auto check_sd = [](ConstantId level) {
        return kCatalogue.value(ConstantId::harvester_spread_of_checks) *
               prior(parameters()[place_of(level)], kCatalogue).sd;
    };
    const std::array deviation{check_sd(ConstantId::harvester_break_lifting),
                               check_sd(ConstantId::harvester_break_cleaning)};
    const Likelihood of_early(early, s, kSight);
    const Likelihood of_late(late, s, kSight);
    // Three predictors, then what each check adds to the two levels, as scores.
    std::array<double, 7> at{};
    for (std::size_t p = 0; p < 3; ++p) {
        at[p] = priors[p].mean;
    }
    const auto log_of = [&](const std::array<double, 7>& x) {
        double sum = 0.0;
        for (std::size_t p = 0; p < 3; ++p) {
            const double z = (x[p] - priors[p].mean) / priors[p].sd;
            sum -= 0.5 * z * z;
        }
        for (std::size_t d = 3; d < 7; ++d) {
            sum -= 0.5 * x[d] * x[d];
        }
        const auto with = [&](std::size_t first) {
            Predictors z{};
            z[static_cast<std::size_t>(touched[0])] = x[0] + deviation[0] * x[first];
            z[static_cast<std::size_t>(touched[1])] = x[1] + deviation[1] * x[first + 1];
            z[static_cast<std::size_t>(touched[2])] = x[2];
            return z;
        };
        return sum + of_early.log(with(3)) + of_late.log(with(5));
    };
    constexpr std::array kStep{0.25, 0.35, 0.08, 0.8, 0.8, 0.8, 0.8};
    constexpr int kSteps = 400'000;
    RandomStream random(2, "a long chain");
    double height = log_of(at);
    std::array<double, 3> sums{}, squares{};
    for (int step = 0; step < kSteps; ++step) {
        auto next = at;
        for (std::size_t d = 0; d < next.size(); ++d) {
            next[d] += kStep[d] * random.normal();
        }
        const double there = log_of(next);
        if (std::log(random.uniform()) < there - height) {
            at = next;
            height = there;
        }
        for (std::size_t p = 0; p < 3; ++p) {
            sums[p] += at[p];
            squares[p] += at[p] * at[p];
        }
    }
    constexpr std::size_t kDraws = 4000;
    const auto draws = belief.draws(kDraws, 5);
    for (std::size_t p = 0; p < 3; ++p) {
        const double mean = sums[p] / kSteps;
        const double sd = std::sqrt(squares[p] / kSteps - mean * mean);
        double sum = 0.0;
        double square = 0.0;
        for (std::size_t i = 0; i < kDraws; ++i) {
            const double value = predictors(
                s, std::span(draws).subspan(i * kParameters,
                                            kParameters))[static_cast<std::size_t>(touched[p])];
            sum += value / kDraws;
            square += value * value / kDraws;
        }
        // A draw in three is worth an independent one at the least: 4 standard errors of either.
        EXPECT_NEAR(sum, mean, 0.12 * sd) << p;
        EXPECT_NEAR(std::sqrt(square - sum * sum), sd, 0.12 * sd) << p;
        // The normal that is carried on from day to day is not far from it.
        const Known known = belief.predictor(touched[p], s);
        EXPECT_NEAR(known.mean, mean, 0.35 * sd) << p;
        EXPECT_NEAR(known.sd, sd, 0.35 * sd) << p;
    }
}

// --- By calibration ------------------------------------------------------------------------------

/// A machine and a field, drawn from what is thought before anybody has looked.
struct Truth {
    std::vector<double> here = std::vector<double>(kParameters);

    explicit Truth(RandomStream& random) {
        for (std::size_t p = 0; p < kParameters; ++p) {
            const Prior before = prior(parameters()[p], kCatalogue);
            here[p] = before.mean + before.sd * random.normal();
        }
        here = with_levels(random, kCatalogue.value(ConstantId::harvester_spread_of_fields));
    }
    [[nodiscard]] std::vector<double> with_levels(RandomStream& random, double share) const {
        std::vector<double> values = here;
        for (const std::size_t level : levels()) {
            values[level] += share * prior(parameters()[level], kCatalogue).sd * random.normal();
        }
        return values;
    }
    [[nodiscard]] Predictors at_a_check(RandomStream& random, const Situation& situation) const {
        return predictors(
            situation,
            with_levels(random, kCatalogue.value(ConstantId::harvester_spread_of_checks)));
    }
};

// Simulation-based calibration (Talts et al. 2018, arXiv:1804.06788): the truth's rank among draws
// after four checks of a day is as likely to be any, for every predictor at settings never tried.
// Of 20 Kolmogorov-Smirnov distances one over 1.95 / sqrt(n) comes by chance once in 50 such tests.
TEST(BeliefDraws, RanksAreUniform) {
    constexpr std::uint64_t kSeasons = 160;
    constexpr std::size_t kDraws = 100;
    const Situation probe = situation_of({{"share.depth", 0.09}, {"turbine_1.speed", 1.0}});
    const Situation shallow = situation_of({{"share.depth", 0.06}});
    const Situation fast = situation_of(turbines_at(60.0), usual_conditions(SoilFeel::sticky));
    std::array<std::vector<double>, kPredictors> ranks;
    std::array<int, kPredictors> covered{};
    for (std::uint64_t season = 0; season < kSeasons; ++season) {
        RandomStream random(7, "calibration", season);
        const Truth truth(random);
        Belief belief(kCatalogue);
        belief.enter("field");
        for (const Situation* s : {&shallow, &fast, &shallow, &fast}) {
            const auto way =
                s == &shallow ? SeenOnTheWay::before_cleaning : SeenOnTheWay::after_cleaning;
            const Look look = simulated_look(
                random, truth.at_a_check(random, *s), *s, kSight,
                {.crowns = 60, .tails = 60, .skins = 20, .strip_m2 = 10.0, .tares = 1}, way);
            belief.learn(look, *s, kSight);
        }
        const Predictors true_values = predictors(probe, truth.here);
        const auto draws = belief.draws(kDraws, season);
        for (std::size_t p = 0; p < kPredictors; ++p) {
            int below = 0;
            for (std::size_t i = 0; i < kDraws; ++i) {
                const auto drawn =
                    predictors(probe, std::span(draws).subspan(i * kParameters, kParameters));
                below += drawn[p] < true_values[p] ? 1 : 0;
            }
            // Ranks are whole numbers: spread evenly over theirs.
            ranks[p].push_back((below + random.uniform()) / (kDraws + 1.0));
            covered[p] += ranks[p].back() > 0.05 && ranks[p].back() < 0.95 ? 1 : 0;
        }
    }
    const double n = static_cast<double>(kSeasons);
    for (std::size_t p = 0; p < kPredictors; ++p) {
        std::ranges::sort(ranks[p]);
        double farthest = 0.0;
        for (std::size_t i = 0; i < ranks[p].size(); ++i) {
            const double even = static_cast<double>(i) / n;
            farthest = std::max(
                {farthest, std::abs(ranks[p][i] - even), std::abs(ranks[p][i] - even - 1.0 / n)});
        }
        EXPECT_LT(farthest, 1.95 / std::sqrt(n)) << "predictor " << p;
        // 90 % +- 3.3 standard errors of a share of 160.
        EXPECT_GT(covered[p] / n, 0.82) << "predictor " << p;
        EXPECT_LT(covered[p] / n, 0.98) << "predictor " << p;
    }
}

// --- What goes with what -------------------------------------------------------------------------

TEST(Belief, LearnsNothingFromNothing) {
    Belief belief(kCatalogue);
    belief.enter("field");
    const Known before = belief.parameter(0);
    belief.learn(Look{}, situation_of(), kSight);
    EXPECT_EQ(belief.checks(), 0);
    EXPECT_EQ(belief.parameter(0).mean, before.mean);
    EXPECT_EQ(belief.parameter(0).sd, before.sd);
}

// Broken tails in the tank raise suspicion of lifting and of cleaning; few broken before the
// cleaning clear the shares, many accuse them.
TEST(Belief, AFaultIsPlacedByWhereItIsSeen) {
    const Situation s = situation_of();
    Look tank = broken_at({50, 25, 13, 7, 3, 2});
    tank.where = SeenOnTheWay::after_cleaning;
    const auto after = [&](const Look& early) {
        Belief belief(kCatalogue);
        belief.enter("field");
        belief.learn(tank, s, kSight);
        belief.learn(early, s, kSight);
        return std::pair{belief.predictor(Predictor::break_lifting, s).mean,
                         belief.predictor(Predictor::break_cleaning, s).mean};
    };
    const auto clears = after(broken_at({46, 3, 1, 0, 0, 0}));
    const auto accuses = after(broken_at({25, 13, 6, 3, 2, 1}));
    EXPECT_GT(clears.second, clears.first + 0.5);
    EXPECT_GT(accuses.first, accuses.second + 0.5);
}

TEST(Belief, NewPartsMakeTheirLevelsUnknownAgainAndNoOther) {
    const Situation s = situation_of();
    Belief belief(kCatalogue);
    belief.enter("field");
    belief.learn(broken_at({60, 60, 40, 20, 12, 8}), s, kSight);
    const std::size_t shares = place_of(ConstantId::harvester_break_lifting);
    const std::size_t slope = place_of(ConstantId::harvester_break_slope);
    const Known learned = belief.parameter(shares);
    const Known of_slope = belief.parameter(slope);
    const Prior before = prior(parameters()[shares], kCatalogue);
    ASSERT_GT(learned.mean, before.mean + 0.3);
    belief.change_parts(Stage::turbines);
    EXPECT_EQ(belief.parameter(shares).mean, learned.mean);
    belief.change_parts(Stage::lifting_shares);
    EXPECT_DOUBLE_EQ(belief.parameter(shares).mean, before.mean);
    EXPECT_NEAR(belief.parameter(shares).sd, before.sd, 1e-12);
    EXPECT_EQ(belief.parameter(slope).mean, of_slope.mean);
}

TEST(Belief, ForgetsByTheTimeThatTheCatalogueSays) {
    Belief belief(kCatalogue);
    belief.enter("field");
    belief.learn(broken_at({60, 60, 40, 20, 12, 8}), situation_of(), kSight);
    const std::size_t shares = place_of(ConstantId::harvester_break_lifting);
    const double before = prior(parameters()[shares], kCatalogue).mean;
    const double learned = belief.parameter(shares).mean - before;
    const double sd = belief.parameter(shares).sd;
    belief.wait(Duration(kCatalogue.value(ConstantId::harvester_forgetting)));
    EXPECT_NEAR(belief.parameter(shares).mean - before, learned * std::exp(-1.0), 1e-12);
    EXPECT_GT(belief.parameter(shares).sd, sd);
    EXPECT_LT(belief.parameter(shares).sd, prior(parameters()[shares], kCatalogue).sd);
}

TEST(Belief, AFieldIsRememberedAndAnotherStartsFromTheMachine) {
    const Situation s = situation_of();
    Belief belief(kCatalogue);
    belief.enter("one");
    belief.learn(broken_at({60, 60, 40, 20, 12, 8}), s, kSight);
    const std::size_t level = level_of(ConstantId::harvester_break_lifting);
    const Known here = belief.of_field(level);
    EXPECT_GT(here.mean, 0.0);
    belief.enter("another");
    EXPECT_EQ(belief.of_field(level).mean, 0.0);
    EXPECT_EQ(belief.checks_here(), 0);
    belief.enter("one");
    EXPECT_EQ(belief.of_field(level).mean, here.mean);
    EXPECT_EQ(belief.checks_here(), 1);
}

TEST(BeliefDraws, AreTheSameForTheSameSeed) {
    Belief belief(kCatalogue);
    belief.enter("field");
    belief.learn(broken_at({20, 6, 3, 1, 0, 0}), situation_of(), kSight);
    EXPECT_EQ(belief.draws(50, 3), belief.draws(50, 3));
    EXPECT_NE(belief.draws(50, 3), belief.draws(50, 4));
}

}  // namespace
}  // namespace beetwright::harvester
