// What is learned of a machine: calibration by simulation, what goes with what, forgetting.
#include "harvester/belief.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "harvester/machine.hpp"
#include "simulated_look.hpp"

namespace beetwright::harvester {
namespace {

const Catalogue kCatalogue;
const SightConstants kSight = sight_constants(kCatalogue, usual_losses());
const Machine kMachine = ready_made(MachineKind::six_row_turbines);

Conditions usual_conditions(SoilFeel feel = SoilFeel::crumbly) {
    Conditions conditions;
    const Length sd(0.015);
    conditions.crowns = {Length(0.05), sd, step_of_strangers(sd), Length(0.22)};
    conditions.roots = {.beets = BeetsPerArea(9.0), .mean_mass = CleanMass(0.8), .mass_spread = 0.45};
    conditions.leaf = {.fresh_mass = MassPerArea(4.0), .dead_share = 0.1, .frozen_share = 0.0};
    conditions.soil.feel = feel;
    return conditions;
}

Situation situation_of(const std::vector<std::pair<const char*, double>>& changes = {},
                       SoilFeel feel = SoilFeel::crumbly) {
    Settings settings = usual_settings(kMachine);
    for (const auto& [id, value] : changes) {
        settings.values[id] = value;
    }
    const auto found = situation(kMachine, settings, usual_conditions(feel), kCatalogue);
    EXPECT_TRUE(found.ok()) << (found.ok() ? "" : found.problems().front().text());
    return *found;
}

/// A machine, a field and a check drawn from what is thought before anybody has looked.
struct Truth {
    std::vector<double> machine = std::vector<double>(kParameters);
    std::vector<double> here;  ///< with the field's additions

    explicit Truth(RandomStream& random) {
        for (std::size_t p = 0; p < kParameters; ++p) {
            const Prior before = prior(parameters()[p], kCatalogue);
            machine[p] = before.mean + before.sd * random.normal();
        }
        here = with_levels(machine, random, kCatalogue.value(ConstantId::harvester_spread_of_fields));
    }
    static std::vector<double> with_levels(std::vector<double> values, RandomStream& random,
                                           double share) {
        for (const std::size_t level : levels()) {
            values[level] += share * prior(parameters()[level], kCatalogue).sd * random.normal();
        }
        return values;
    }
    [[nodiscard]] Predictors at_a_check(RandomStream& random, const Situation& situation) const {
        return predictors(situation, with_levels(here, random,
                                                 kCatalogue.value(
                                                     ConstantId::harvester_spread_of_checks)));
    }
};

/// The largest distance between ranks' shares and even ones.
double farthest_from_even(std::vector<double> chances) {
    std::ranges::sort(chances);
    double farthest = 0.0;
    const double n = static_cast<double>(chances.size());
    for (std::size_t i = 0; i < chances.size(); ++i) {
        farthest = std::max({farthest, std::abs(chances[i] - static_cast<double>(i) / n),
                             std::abs(chances[i] - static_cast<double>(i + 1) / n)});
    }
    return farthest;
}

TEST(Belief, SbcProbe) {
    const std::uint64_t kSeasons = 400;
    std::vector<std::vector<double>> ranks(kPredictors);
    double least = 1.0, mean_eff = 0.0;
    int count = 0, failed = 0;
    const Situation probe = situation_of({{"share.depth", 0.09}, {"turbine_1.speed", 1.0}});
    for (std::uint64_t season = 0; season < kSeasons; ++season) {
        RandomStream random(7, "calibration", season);
        const Truth truth(random);
        Belief belief(kCatalogue);
        belief.enter("a");
        for (int c = 0; c < 4; ++c) {
            const Situation s = c % 2 == 0 ? situation_of({{"share.depth", 0.06 + 0.01 * c}})
                                           : situation_of({{"turbine_2.speed", 60.0 / 60.0}}, SoilFeel::sticky);
            const Look look = simulated_look(random, truth.at_a_check(random, s), s, kSight,
                                             {.crowns = 60, .tails = 60, .skins = 20, .strip_m2 = 10.0, .tares = 1});
            const Learned learned = belief.learn(look, s, kSight);
            least = std::min(least, learned.effective_share);
            mean_eff += learned.effective_share;
            ++count;
        }
        const Predictors true_values = predictors(probe, truth.here);
        const std::size_t kN = 200;
        const auto draws = belief.draws(kN, 3 + season);
        std::vector<int> below(kPredictors);
        for (std::size_t i = 0; i < kN; ++i) {
            const Predictors drawn = predictors(probe, std::span(draws).subspan(i * kParameters, kParameters));
            for (std::size_t p = 0; p < kPredictors; ++p) below[p] += drawn[p] < true_values[p];
        }
        for (std::size_t p = 0; p < kPredictors; ++p) {
            ranks[p].push_back((below[p] + 0.5) / (kN + 1.0));
        }
    }
    printf("effective mean %.2f least %.2f not converged %d of %d\n", mean_eff / count, least, failed, count);
    for (std::size_t p = 0; p < kPredictors; ++p) {
        int in = 0;
        double m = 0;
        for (double r : ranks[p]) { in += r > 0.05 && r < 0.95; m += r; }
        printf("%2zu KS %.3f (5%% %.3f) cover %.3f mean rank %.3f\n", p, farthest_from_even(ranks[p]), 1.36 / std::sqrt(400.0), in / 400.0, m / 400.0);
    }
}

}  // namespace
}  // namespace beetwright::harvester
