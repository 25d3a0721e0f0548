#include "check/scheme.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "base/random.hpp"
#include "oracle.hpp"

namespace beetwright::check {
namespace {

const Oracle& r() {
    static const Oracle oracle("check");
    return oracle;
}

// harvest.md 1.2 [D, binomial] of the Rhineland scheme, Moll 2006 [V].
TEST(Scheme, OperatingCharacteristicOfTwoInTen) {
    constexpr std::pair<double, double> rows[] = {{0.05, 98.8}, {0.10, 93.0}, {0.15, 82.0},
                                                  {0.20, 67.8}, {0.25, 52.6}, {0.30, 38.3},
                                                  {0.40, 16.7}};
    for (const auto& [share, percent] : rows) {
        EXPECT_NEAR(100.0 * acceptance(10, 2, share, 0.0), percent, 0.051) << share;
    }
}

TEST(Scheme, OperatingCharacteristicOfTwentyInAHundred) {
    constexpr std::pair<double, double> rows[] = {
        {0.15, 93.4}, {0.20, 55.9}, {0.25, 14.9}, {0.30, 1.6}};
    for (const auto& [share, percent] : rows) {
        EXPECT_NEAR(100.0 * acceptance(100, 20, share, 0.0), percent, 0.051) << share;
    }
}

TEST(Scheme, AlikeBeetsBlurIt) {
    // Spots that are alike within pass bad fields oftener and good ones less often.
    EXPECT_LT(acceptance(10, 2, 0.10, 0.15), acceptance(10, 2, 0.10, 0.0));
    EXPECT_GT(acceptance(10, 2, 0.40, 0.15), acceptance(10, 2, 0.40, 0.0));
}

TEST(Scheme, JudgesOnlyWhatTheCountSettles) {
    const Catalogue catalogue;
    const auto spots = [](int hits_each) {
        return std::vector<SpotSum>(
            10, SpotSum{10, static_cast<double>(hits_each), static_cast<double>(hits_each)});
    };
    EXPECT_EQ(judge(spots(0), 0.05, catalogue).verdict, Verdict::met);
    EXPECT_EQ(judge(spots(3), 0.05, catalogue).verdict, Verdict::missed);
    // 100 beets cannot prove a target of 5 % when 5 were found.
    std::vector<SpotSum> five = spots(0);
    for (std::size_t i = 0; i < 5; ++i) {
        five[i] = {10, 1, 1};
    }
    EXPECT_EQ(judge(five, 0.05, catalogue).verdict, Verdict::not_settled);
}

// The same limit over ten spots whose beets are alike, against R (beta-binomial spots convolved).
// Where nothing is alike it is the limit on a hundred single beets.
TEST(Scheme, TwentyInAHundredFromTenSpotsAgreesWithR) {
    for (const char* correlation : {"0", "0.06", "0.15"}) {
        for (const char* share : {"0.15", "0.2", "0.25"}) {
            const std::string name = std::string("spots 10 10 20 ") + share + ' ' + correlation;
            EXPECT_NEAR(acceptance_of_spots(10, 10, 20, std::stod(share), std::stod(correlation)),
                        r().at(name), 1e-9)
                << name;
        }
    }
    EXPECT_NEAR(acceptance_of_spots(10, 10, 20, 0.2, 0.0), acceptance(100, 20, 0.2, 0.0), 1e-12);
    EXPECT_NEAR(acceptance_of_spots(10, 10, 100, 0.2, 0.1), 1.0, 1e-12);
}

const Scheme& ten_spots_of_ten() {
    for (const Scheme& scheme : schemes()) {
        if (scheme.spots > 0) {
            return scheme;
        }
    }
    ADD_FAILURE() << "no scheme judges spots on their own";
    return schemes().front();
}

TEST(Scheme, EverySpotMustPass) {
    const Scheme& scheme = ten_spots_of_ten();
    ASSERT_EQ(scheme.beets, 10);
    ASSERT_EQ(scheme.most_hits, 2);
    // 0.820^10 = 0.137 at 15 %: ten spots are far stricter than one.
    EXPECT_NEAR(acceptance_of_all(scheme, 0.15, 0.0), std::pow(0.8202, 10), 5e-4);
    const std::vector<SpotSum> spots{{10, 2, 2}, {10, 0, 0}, {10, 3, 3}, {8, 0, 0}, {15, 3, 3}};
    const auto ruling = rule(scheme, spots);
    EXPECT_EQ(ruling.passed, 3);  // of fifteen, three are in proportion
    EXPECT_EQ(ruling.failed, 1);
    EXPECT_EQ(ruling.too_small, 1);
    EXPECT_FALSE(ruling.passes());
}

// The acceptance of the scheme, by simulation of its rule on beta-binomial spots: 4,000 fields of
// 10 %, correlation 0.06. Binomial standard error 0.8 %. Seed 45.
TEST(Scheme, RulesAsOftenAsItsCharacteristicSays) {
    const Scheme& scheme = ten_spots_of_ten();
    constexpr double kShare = 0.10;
    const double size = 1.0 / 0.06 - 1.0;
    int passed = 0;
    for (std::uint64_t trial = 0; trial < 4000; ++trial) {
        RandomStream random(45, "rulings", trial);
        std::vector<SpotSum> spots(10);
        for (auto& spot : spots) {
            const double share = random.beta(kShare * size, (1.0 - kShare) * size);
            for (int b = 0; b < 10; ++b) {
                spot.add(random.chance(share) ? 1.0 : 0.0);
            }
        }
        passed += rule(scheme, spots).passes() ? 1 : 0;
    }
    EXPECT_NEAR(passed / 4000.0, acceptance_of_all(scheme, kShare, 0.06), 0.025);
}

TEST(LossLimit, EachIsAnAreaOrAShareWithASource) {
    for (const LossLimit& limit : loss_limits()) {
        EXPECT_NE(limit.most.is_known(), limit.most_share > 0.0) << limit.words;
        EXPECT_TRUE(limit.source.starts_with("[")) << limit.words;
        EXPECT_FALSE(words(limit.part).empty());
    }
}

// Half a short ton/acre is 1.1209 t/ha (harvest.md: 1 short ton/acre = 2.2417 t/ha).
TEST(LossLimit, OfTheUnitedStatesInMetric) {
    for (const LossLimit& limit : loss_limits()) {
        if (limit.words.find("half a short ton") != std::string_view::npos) {
            EXPECT_NEAR(limit.most / unit::t_clean_per_ha, 2.2417 / 2.0, 1e-4);
        }
    }
}

TEST(LossLimit, JudgesOnlyWhatIsSettled) {
    const LossLimit& tails = loss_limits()[2];
    ASSERT_EQ(tails.part, LossPart::tails);
    const CleanMassPerArea crop = 80.0 * unit::t_clean_per_ha;
    const auto loss = [](double t_per_ha, double sd) {
        return num::Uncertain{0.1 * t_per_ha, 0.1 * sd, 20.0};
    };
    EXPECT_EQ(judge_loss(loss(0.5, 0.1), tails, crop).verdict, Verdict::met);
    EXPECT_EQ(judge_loss(loss(1.8, 0.2), tails, crop).verdict, Verdict::missed);
    EXPECT_EQ(judge_loss(loss(1.0, 0.3), tails, crop).verdict, Verdict::not_settled);
    // 1 % of 80 t/ha is 0.8 t/ha.
    const LossLimit share{"", LossPart::left_in_soil, CleanMassPerArea(), 0.01, ""};
    EXPECT_GT(judge_loss(loss(0.8, 0.2), share, crop).chance_met, 0.45);
    EXPECT_LT(judge_loss(loss(0.8, 0.2), share, crop).chance_met, 0.60);
}

}  // namespace
}  // namespace beetwright::check
