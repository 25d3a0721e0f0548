#include "check/estimate.hpp"

#include <gtest/gtest.h>

#include <array>
#include <fstream>
#include <string>
#include <vector>

#include "base/random.hpp"
#include "check/sample_mean.hpp"
#include "oracle.hpp"

namespace beetwright::check {
namespace {

constexpr double kZ95 = 1.959963984540054;

const Oracle& r() {
    static const Oracle oracle("check");
    return oracle;
}

/// The fixed data set of tests/oracles/spots.csv: one SpotSum a spot.
struct FixedSpots {
    std::vector<SpotSum> rejects;
    std::vector<SpotSum> breaks;
};
FixedSpots fixed_spots() {
    std::ifstream in(std::string(BEETWRIGHT_SOURCE_DIR) + "/tests/oracles/spots.csv");
    FixedSpots spots;
    std::string line;
    while (std::getline(in, line)) {
        if (line.empty() || line[0] == '#' || line[0] == 's') {
            continue;
        }
        int spot = 0;
        double beets = 0.0, rejects = 0.0, breaks = 0.0;
        std::sscanf(line.c_str(), "%d,%lf,%lf,%lf", &spot, &beets, &rejects, &breaks);
        spots.rejects.push_back({beets, rejects, rejects});
        spots.breaks.push_back({beets, breaks, 0.0});
    }
    return spots;
}

// harvest.md 5 [D], and R's prop.test: Wilson 95 % intervals.
TEST(WilsonInterval, AgreesWithRAndTheReferenceSheet) {
    struct Row {
        int hits, beets;
        double low_percent, high_percent;
    };
    constexpr std::array rows{Row{5, 100, 2.2, 11.2},   Row{10, 100, 5.5, 17.4},
                              Row{15, 100, 9.3, 23.3},  Row{20, 100, 13.3, 28.9},
                              Row{30, 200, 10.7, 20.6}, Row{45, 300, 11.4, 19.5},
                              Row{2, 10, 5.7, 51.0}};
    for (const Row& row : rows) {
        const auto interval = wilson_interval(row.hits, row.beets, kZ95);
        const std::string of = std::to_string(row.hits) + " " + std::to_string(row.beets);
        EXPECT_NEAR(interval.low, r().at("wilson low " + of), 1e-12);
        EXPECT_NEAR(interval.high, r().at("wilson high " + of), 1e-12);
        EXPECT_NEAR(100.0 * interval.low, row.low_percent, 0.051);
        EXPECT_NEAR(100.0 * interval.high, row.high_percent, 0.051);
    }
}

TEST(ClusterVariance, AgreesWithSurveyRatiosOfR) {
    const auto spots = fixed_spots();
    ASSERT_EQ(spots.rejects.size(), 12U);
    const auto all = total(spots.rejects);
    EXPECT_NEAR(all.sum / all.n, r().at("survey ratio rejects"), 1e-12);
    EXPECT_NEAR(variance_between_spots(spots.rejects), r().at("survey variance rejects"), 1e-12);
    EXPECT_NEAR(variance_between_spots(spots.breaks), r().at("survey variance breaks"), 1e-12);
}

TEST(ClusterVariance, DesignEffectAgreesWithTheMixedModelOfR) {
    // The intra-spot correlation of lme4 (REML) and the design effect seen here are two estimates
    // of the same thing: effect = 1 + (beets per spot - 1) correlation. They differ by method; both
    // say that these spots are worth about half their beets.
    const auto spots = fixed_spots().rejects;
    const auto all = total(spots);
    const double share = all.sum / all.n;
    const double single = share * (1.0 - share) / (all.n - 1.0);
    const double seen = variance_between_spots(spots) / single;
    const double by_model = 1.0 + (10.05 - 1.0) * r().at("lme4 intra-spot correlation");
    EXPECT_NEAR(seen, by_model, 0.15);
}

TEST(ShareOfSpots, OfNoneIsNotNever) {
    const std::vector<SpotSum> spots{{10, 0, 0}, {10, 0, 0}};
    const auto estimate = share_estimate(spots, Catalogue{});
    EXPECT_EQ(estimate.share.value, 0.0);
    EXPECT_GE(estimate.share.low, 0.0);
    EXPECT_GT(estimate.share.high, 0.05);
    EXPECT_LT(estimate.share.high, 0.25);
}

TEST(ShareOfSpots, ProvesLessThanAsManySingleBeets) {
    const auto estimate = share_estimate(fixed_spots().rejects, Catalogue{});
    EXPECT_GT(estimate.design_effect, 1.3);
    EXPECT_LT(estimate.effective_beets(), estimate.beets);
    const auto simple = wilson_interval(estimate.hits, estimate.beets, kIntervalZ);
    EXPECT_GT(estimate.share.high - estimate.share.low, simple.high - simple.low);
}

TEST(ShareOfSpots, OneSpotLeansOnTheUsualAlikeness) {
    const Catalogue catalogue;
    const std::vector<SpotSum> one{{10, 2, 2}};
    const auto design = design_effect(one, catalogue);
    EXPECT_NEAR(design.effect, 1.0 + 9.0 * catalogue.value(ConstantId::check_alikeness), 1e-12);
}

TEST(MeanOfSamples, BlendsTheUsualSpreadByItsFreedom) {
    // One sample: the usual spread alone. Three with variance 4 about 10: (2 x 4 + 6 x 1) / 8
    // = 1.75.
    const std::array one{10.0};
    EXPECT_NEAR(mean_of_samples(one, 1.0, 6.0).sd, 1.0, 1e-12);
    const std::array three{8.0, 10.0, 12.0};
    const auto mean = mean_of_samples(three, 1.0, 6.0);
    EXPECT_EQ(mean.mean, 10.0);
    EXPECT_NEAR(mean.sd, std::sqrt(1.75 / 3.0), 1e-12);
    EXPECT_EQ(mean.freedom, 8.0);
}

// How often does the 90 % interval of a share hold the truth? 2,000 fields of 10 spots of 10 for
// each share, the beets of a spot alike as the catalogue has it. Binomial standard error 0.67 %;
// shares are counts, so coverage comes in steps, and five of those errors are allowed about 90 %.
// At 2 %, about one count in five is none at all, and an interval either holds the truth after none
// or does not: there it must not fall short. Seed 30.
TEST(ShareOfSpots, IntervalsHoldTheTruthNineTimesInTen) {
    const Catalogue catalogue;
    const double alikeness = catalogue.value(ConstantId::check_alikeness);
    for (const double truth : {0.02, 0.05, 0.10, 0.20, 0.30}) {
        int inside = 0;
        for (std::uint64_t field = 0; field < 2000; ++field) {
            RandomStream random(30, "share coverage", field);
            const double size = 1.0 / alikeness - 1.0;
            std::vector<SpotSum> spots(10);
            for (auto& spot : spots) {
                const double share = random.beta(truth * size, (1.0 - truth) * size);
                for (int b = 0; b < 10; ++b) {
                    spot.add(random.chance(share) ? 1.0 : 0.0);
                }
            }
            const auto estimate = share_estimate(spots, catalogue);
            inside += estimate.share.low <= truth && truth <= estimate.share.high ? 1 : 0;
        }
        EXPECT_GT(inside / 2000.0, 0.90 - 0.034) << truth;
        if (truth > 0.02) {
            EXPECT_LT(inside / 2000.0, 0.90 + 0.034) << truth;
        }
    }
}

// The same for a skewed amount: a third of the beets has none, the rest gamma of shape 0.8 (a break
// to the power 2.1). Seed 31.
TEST(MeanOfSpots, IntervalsOfSkewedAmountsHoldTheTruthNineTimesInTen) {
    const Catalogue catalogue;
    const double cv = std::sqrt(catalogue.value(ConstantId::check_alikeness));
    int inside = 0;
    for (std::uint64_t field = 0; field < 2000; ++field) {
        RandomStream random(31, "mean coverage", field);
        std::vector<SpotSum> spots(10);
        for (auto& spot : spots) {
            const double level = std::max(0.0, 1.0 + cv * random.normal());
            for (int b = 0; b < 10; ++b) {
                spot.add(random.chance(1.0 / 3.0) ? 0.0 : level * random.gamma(0.8) / 0.8);
            }
        }
        const num::UncertainQuantile quantile(mean_of_spots(spots, catalogue));
        const double truth = 2.0 / 3.0;
        inside += quantile.at(-kIntervalZ) <= truth && truth <= quantile.at(kIntervalZ) ? 1 : 0;
    }
    EXPECT_NEAR(inside / 2000.0, 0.90, 0.02);
}

}  // namespace
}  // namespace beetwright::check
