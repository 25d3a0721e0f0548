// What is believed of knolls and hollows, shifted by what was seen there: against closed forms, and
// by how often its intervals hold the truth.
#include "engine/lie_beliefs.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "ground/driven.hpp"
#include "ground/prominence.hpp"
#include "num/distributions.hpp"

namespace beetwright::engine {
namespace {

using check::SoilInHand;
using ground::Lie;

TEST(Belief, IsWhatWasAssumedUntilSomethingIsHeard) {
    const Belief belief([](double score) { return std::exp(0.4 * score); });
    for (const double score : {-2.0, -1.0, 0.0, 0.5, 2.5}) {
        EXPECT_DOUBLE_EQ(belief.at_score(score), std::exp(0.4 * score));
    }
}

// A normal that is heard with a normal error is normal, in closed form (Gelman and others, Bayesian
// Data Analysis, 3rd edition, 2.5, from memory).
TEST(Belief, OfANormalIsTheClosedForm) {
    const double assumed = 0.8;
    const double spread = 0.1;
    const double seen = 0.68;
    const double error = 0.05;
    Belief belief([=](double score) { return assumed + spread * score; });
    belief.hear([=](double value) { return -0.5 * std::pow((value - seen) / error, 2.0); });
    const double weight = 1.0 / (spread * spread) + 1.0 / (error * error);
    const double mean = (assumed / (spread * spread) + seen / (error * error)) / weight;
    const double sd = 1.0 / std::sqrt(weight);
    for (const double score : {-1.6449, -0.5, 0.0, 1.0, 1.6449}) {
        EXPECT_NEAR(belief.at_score(score), mean + sd * score, 0.01 * sd);
    }
}

// A chance of which nothing is known, heard k times of n, is beta(k + 1, n - k + 1).
TEST(Belief, OfAChanceIsTheBetaDistribution) {
    Belief belief([](double score) { return normal_cdf(score); });
    belief.hear([](double p) { return 3.0 * std::log(p) + 5.0 * std::log1p(-p); });
    for (const double score : {-1.6449, 0.0, 1.6449}) {
        EXPECT_NEAR(belief.at_score(score), num::beta_quantile(normal_cdf(score), 4.0, 6.0), 0.002);
    }
}

TEST(Belief, HeardTwiceIsHeardTogether) {
    const auto prior = [](double score) { return 2.0 + score; };
    const auto one = [](double value) { return -0.5 * std::pow(value - 1.0, 2.0); };
    const auto other = [](double value) { return -2.0 * std::pow(value - 3.0, 2.0); };
    Belief twice(prior);
    twice.hear(one);
    twice.hear(other);
    Belief once(prior);
    once.hear([&](double value) { return one(value) + other(value); });
    for (const double score : {-1.0, 0.0, 1.0}) {
        EXPECT_NEAR(twice.at_score(score), once.at_score(score), 1e-9);
    }
}

/// A field with a knoll in the west and a hollow in the east.
class SeenOnAKnoll : public ::testing::Test {
 protected:
    static ground::Drive drive() {
        ground::Drive how;
        how.length_m = 500.0;
        how.breadth_m = 300.0;
        how.height = [](const ground::Point& at) {
            const auto bump = [&](double east, double height) {
                return height /
                       (1.0 + std::pow(std::hypot(at.east_m - east, at.north_m) / 60.0, 6.0));
            };
            return 150.0 + bump(-120.0, 1.8) + bump(120.0, -1.5);
        };
        return how;
    }
    void lay(ground::Track track) {
        auto made = ground::surface_of(track);
        ASSERT_TRUE(made.ok());
        surface_ = std::make_unique<ground::Surface>(std::move(*made));
        const auto prominence =
            ground::prominence_of(surface_->grid, surface_->height_m, 120.0, 0.09);
        patches_ = ground::patches_of(surface_->grid, prominence, {0.3, 9.0, 20.0});
        ASSERT_EQ(patches_.size(), 2U);
    }
    /// A look of this field, metres east and north of the middle of the track.
    check::StandingLook& look(double east_m, double north_m, int day = 20) {
        const auto n = static_cast<std::uint64_t>(++looks_);
        const Instant at = *parse_instant("2031-09-01T08:00:00Z") + std::chrono::hours(24 * day);
        check::StandingLook seen;
        seen.id = Uuid::version7(at, 1, n);
        seen.field = "Long Acre";
        seen.at = at;
        season_.standing.push_back(seen);
        const auto position = ground::LocalPlane(drive().middle).to_earth({east_m, north_m});
        constexpr double kDegree = std::numbers::pi / 180.0;
        check::Place place;
        place.id = Uuid::version7(at, 2, n);
        place.field = "Long Acre";
        place.at = at;
        place.of = seen.id;
        place.latitude_rad = kDegree * position.latitude_deg;
        place.longitude_rad = kDegree * position.longitude_deg;
        season_.places.push_back(place);
        return season_.standing.back();
    }
    [[nodiscard]] LieBeliefs beliefs() const {
        return lie_beliefs(season_, "Long Acre", *surface_, patches_, catalogue_);
    }
    static std::vector<Length> crowns(double mean_m) {
        return {Length(mean_m - 0.02), Length(mean_m - 0.01), Length(mean_m), Length(mean_m + 0.01),
                Length(mean_m + 0.02)};
    }

    Catalogue catalogue_;
    ledger::Season season_;
    std::unique_ptr<ground::Surface> surface_;
    std::vector<ground::Patch> patches_;
    int looks_ = 0;
};

TEST_F(SeenOnAKnoll, NothingLeavesWhatIsAssumed) {
    lay(ground::driven(drive()));
    const auto none = beliefs();
    EXPECT_TRUE(none.seen.empty());
    EXPECT_FALSE(none.crowns_higher_m.has_heard());
    EXPECT_DOUBLE_EQ(none.expected().crowns_higher.value.si(),
                     catalogue_.value(ConstantId::ground_knoll_crowns));
    // A look without a place, or of another field, tells nothing of a lie.
    look(-120.0, 0.0).crowns = crowns(0.09);
    season_.places.clear();
    look(-120.0, 0.0).crowns = crowns(0.09);
    season_.standing.back().field = "Mill Field";
    EXPECT_TRUE(beliefs().seen.empty());
}

TEST_F(SeenOnAKnoll, MeasuredCrownsShiftByHowMuchTheyStandHigher) {
    lay(ground::driven(drive()));
    const auto assumed = beliefs().crowns_higher_m.estimate();
    // 22 mm higher, where 12 (6 to 24) are assumed.
    look(-120.0, 0.0).crowns = crowns(0.072);
    look(-130.0, 10.0).crowns = crowns(0.071);
    look(0.0, 0.0).crowns = crowns(0.050);
    look(0.0, 60.0).crowns = crowns(0.049);
    look(20.0, -60.0).crowns = crowns(0.0495);
    const auto heard = beliefs();
    const auto now = heard.crowns_higher_m.estimate();
    EXPECT_NEAR(now.value, 0.0215, 0.002);
    EXPECT_LT(now.high - now.low, assumed.high - assumed.low) << "more is known of it now";
    ASSERT_EQ(heard.seen.size(), 1U);
    EXPECT_EQ(heard.seen[0], "crowns measured at 2 places on knolls and 3 on level ground");
    EXPECT_FALSE(heard.beet_share.has_heard());
}

TEST_F(SeenOnAKnoll, SoilThatFeelsWetterInTheHollowMakesItLikelier) {
    lay(ground::driven(drive()));
    const double assumed = beliefs().wetter_chance.at_score(0.0);
    for (const int day : {20, 30, 40}) {
        look(120.0, 0.0, day).soil_in_hand = SoilInHand::sticky;
        look(0.0, 0.0, day).soil_in_hand = SoilInHand::plastic;
    }
    const double wet = beliefs().wetter_chance.at_score(0.0);
    EXPECT_GT(wet, assumed + 0.02);
    // Felt as on level ground, it is less likely; felt a week apart, it says nothing.
    season_ = {};
    look(120.0, 0.0, 20).soil_in_hand = SoilInHand::plastic;
    look(0.0, 0.0, 21).soil_in_hand = SoilInHand::plastic;
    EXPECT_LT(beliefs().wetter_chance.at_score(0.0), assumed - 0.02);
    season_ = {};
    look(120.0, 0.0, 20).soil_in_hand = SoilInHand::sticky;
    look(0.0, 0.0, 27).soil_in_hand = SoilInHand::plastic;
    EXPECT_FALSE(beliefs().wetter_chance.has_heard());
}

TEST_F(SeenOnAKnoll, YieldsOfTheLogShiftTheMassOfABeet) {
    auto track = ground::driven(drive());
    const ground::LocalPlane plane(drive().middle);
    RandomStream random(3, "yields");
    for (auto& fix : track.fixes) {
        const auto at = plane.to_plane(fix.position);
        const bool is_knoll = std::hypot(at.east_m + 120.0, at.north_m) < 60.0;
        fix.yield_kg_m2 = (is_knoll ? 4.9 : 7.0) * (1.0 + 0.1 * random.normal());
    }
    lay(track);
    ASSERT_EQ(surface_->yield_kg_m2.size(), surface_->grid.size());
    const auto heard = beliefs();
    const auto now = heard.beet_share.estimate();
    // 0.82 (0.68 to 0.98) is assumed, 0.70 was seen, which yields tell of beets to 10 %: by the
    // normal's closed form the middle lies between, nearer to what was seen.
    EXPECT_GT(now.value, 0.71);
    EXPECT_LT(now.value, 0.78);
    ASSERT_EQ(heard.seen.size(), 1U);
    // At the edge cells of both kinds of ground are mixed.
    EXPECT_EQ(heard.seen[0].substr(0, 29), "yield by the log: on knolls 7") << heard.seen[0];
}

// Truths drawn from what is assumed, crowns measured with the scatter of places: the intervals hold
// the truth as often as they say.
TEST_F(SeenOnAKnoll, IntervalsHoldTheTruthAsOftenAsTheySay) {
    lay(ground::driven(drive()));
    RandomStream random(7, "truths of a knoll");
    constexpr int kTimes = 600;
    int held = 0;
    int below = 0;
    for (int time = 0; time < kTimes; ++time) {
        season_ = {};
        const double truth = catalogue_.at_score(ConstantId::ground_knoll_crowns, random.normal());
        const double field = 0.05;
        const auto place = [&](double east, double north, double mean) {
            look(east, north).crowns = crowns(mean + 0.006 * random.normal());
        };
        place(-120.0, 0.0, field + truth);
        place(-130.0, 10.0, field + truth);
        place(-110.0, -10.0, field + truth);
        place(0.0, 0.0, field);
        place(0.0, 60.0, field);
        place(20.0, -60.0, field);
        const auto now = beliefs().crowns_higher_m.estimate();
        held += truth >= now.low && truth <= now.high ? 1 : 0;
        below += truth < now.value ? 1 : 0;
    }
    // 90 %, and half, by the binomial's own scatter of 600.
    EXPECT_GT(held, 510);
    EXPECT_LT(held, 570);
    EXPECT_NEAR(below, 300, 40);
}

}  // namespace
}  // namespace beetwright::engine
