#include "beet/tip.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string_view>
#include <vector>

#include "base/estimate.hpp"
#include "base/random.hpp"
#include "beet/shape.hpp"
#include "oracle.hpp"

namespace beetwright::beet {
namespace {

const Catalogue kCatalogue;

TipConstants constants_at(double loss_score, double exponent_score) {
    return {kCatalogue.at_score(ConstantId::tip_loss_at_5cm, loss_score),
            kCatalogue.at_score(ConstantId::tip_exponent, exponent_score)};
}

struct PublishedRow {
    std::string_view source;
    double diameter_cm;
    double loss_percent;
};

// Three independent tables of the mass lost at a break diameter, all [V]: AIMCRA, Spain
// (notiagricultura 30/9/2014); G. Baldoni, University of Bologna, lecture "Raccolta"; a German
// seed-breeder's wiki.
constexpr std::array kPublished{PublishedRow{"AIMCRA", 3, 3},   PublishedRow{"AIMCRA", 5, 8},
                                PublishedRow{"AIMCRA", 7, 19},  PublishedRow{"Bologna", 3, 4},
                                PublishedRow{"Bologna", 5, 10}, PublishedRow{"Bologna", 8, 31},
                                PublishedRow{"wiki", 3, 3},     PublishedRow{"wiki", 6, 11}};

// The 90 % band of the loss at a diameter: both constants drawn, 4,000 times, seed 1.
struct Band {
    double low, high;
};
Band band_at(double diameter_m) {
    std::vector<double> losses(4000);
    RandomStream random(1, "tip band");
    for (auto& loss : losses) {
        loss = tip_loss(diameter_m, constants_at(random.normal(), random.normal()));
    }
    std::ranges::sort(losses);
    return {losses[200], losses[3800]};
}

TEST(TipLoss, ThreePublishedTablesLieWithinItsSpread) {
    for (const auto& row : kPublished) {
        const Band band = band_at(0.01 * row.diameter_cm);
        EXPECT_GT(0.01 * row.loss_percent, band.low) << row.source << ' ' << row.diameter_cm;
        EXPECT_LT(0.01 * row.loss_percent, band.high) << row.source << ' ' << row.diameter_cm;
    }
}

// Nor is it wider than they ask for: by R's nlme, an offset a source, a source not seen yet differs
// by a lognormal of 0.18; that is how far the truth of one field may be from the fit.
TEST(TipLoss, SpreadIsThatOfASourceNotSeenYet) {
    const Oracle r("beet");
    const double expected = r.at("tip sources new source");
    EXPECT_NEAR(std::log(constants_at(1.0, 0.0).loss_at_5cm / constants_at(0.0, 0.0).loss_at_5cm),
                expected, 0.02 * expected);
    EXPECT_NEAR(constants_at(0.0, 1.0).exponent - constants_at(0.0, 0.0).exponent,
                r.at("tip line exponent error"), 0.05 * r.at("tip line exponent error"));
}

TEST(TipLoss, CentralLineIsTheLogLogFitOfTheEightPoints) {
    const Oracle r("beet");
    const auto central = constants_at(0.0, 0.0);
    EXPECT_NEAR(central.exponent, r.at("tip line exponent"), 0.005);
    EXPECT_NEAR(100.0 * central.loss_at_5cm, r.at("tip line at 5 cm"), 0.01);
    // With an offset for each source it moves by far less than its spread.
    EXPECT_NEAR(central.exponent, r.at("tip sources exponent"), 0.06);
    EXPECT_NEAR(100.0 * central.loss_at_5cm, r.at("tip sources at 5 cm"), 0.2);
}

// Centred on 5 cm, the two constants of the fit correlate by 0.18 only (from 8 values of x = ln(d /
// 5 cm): -mean(x) / sqrt(mean(x^2))), so drawing them apart is right to a few per cent of spread.
TEST(TipLoss, ConstantsAreNearlyIndependentAboutFiveCentimetres) {
    double sum = 0.0, squares = 0.0;
    for (const auto& row : kPublished) {
        const double x = std::log(row.diameter_cm / 5.0);
        sum += x;
        squares += x * x;
    }
    EXPECT_LT(std::abs(sum / std::sqrt(squares * static_cast<double>(kPublished.size()))), 0.2);
}

// Kumbar et al. 2016 [V], full cone angle 25.29 degrees; volumes and shares of 757 cm3 [D].
TEST(TipCone, VolumesOfTheTwentyFiveDegreeCone) {
    const double angle = kCatalogue.value(ConstantId::root_cone_angle);
    const auto volume_cm3 = [&](double d) {
        return cone_tip_volume(d * unit::cm, angle) / unit::cm3;
    };
    EXPECT_NEAR(volume_cm3(1.0), 0.5836, 2e-4);
    EXPECT_NEAR(volume_cm3(3.0), 15.8, 0.05);
    EXPECT_NEAR(volume_cm3(5.0), 72.9, 0.1);
    const double root = kCatalogue.value(ConstantId::root_volume) * 1e6;
    EXPECT_NEAR(100.0 * volume_cm3(3.0) / root, 2.1, 0.05);
    EXPECT_NEAR(100.0 * volume_cm3(5.0) / root, 9.6, 0.05);
    EXPECT_NEAR(100.0 * volume_cm3(6.0) / root, 16.6, 0.1);
    EXPECT_NEAR(100.0 * volume_cm3(8.0) / root, 39.5, 0.1);
    EXPECT_NEAR(cone_tip_length(2.0 * unit::cm, angle) / unit::cm, 4.46, 0.01);
}

// The cone over-predicts beyond 6 cm and under-predicts at 3 cm, and agrees in between: a
// cross-check of the fit by geometry alone.
TEST(TipCone, CrossChecksTheFitAtFiveCentimetres) {
    const double angle = kCatalogue.value(ConstantId::root_cone_angle);
    const auto central = constants_at(0.0, 0.0);
    const auto ratio = [&](double diameter_cm) {
        const double cone = cone_tip_volume(diameter_cm * unit::cm, angle).si() /
                            kCatalogue.value(ConstantId::root_volume);
        return cone / tip_loss(0.01 * diameter_cm, central);
    };
    EXPECT_NEAR(ratio(5.0), 1.0, 0.05);
    EXPECT_LT(ratio(3.0), 0.75);
    EXPECT_GT(ratio(8.0), 1.4);
}

TEST(TipLoss, GrowsWithTheBreakAndIsCapped) {
    const auto central = constants_at(0.0, 0.0);
    EXPECT_EQ(tip_loss(0.0, central), 0.0);
    double before = -1.0;
    for (double d = 0.0; d < 0.10; d += 0.005) {
        EXPECT_GT(tip_loss(d, central), before);
        before = tip_loss(d, central);
    }
    EXPECT_EQ(tip_loss(1.0, central), kLargestTipLoss);
}

TEST(TipLoss, OfALargeRootIsLessForTheSameBreak) {
    // Eight times the mass is twice the width: a 6 cm break counts as one of 3 cm.
    const auto central = constants_at(0.0, 0.0);
    EXPECT_NEAR(
        tip_loss_of_root(0.06, kilograms<CleanMass>(6.4), kilograms<CleanMass>(0.8), central),
        tip_loss(0.03, central), 1e-15);
}

// The same break in every root of a crop: the mean share lost by mass is E[m (d / m^(1/3))^b] =
// E[m^(1
// - b/3)], the lognormal's moment 1 - b/3; for a coefficient of variation of 0.45 two per cent less
// than in a crop of equal roots, so the ledger may leave it out.
TEST(TipLoss, OfACropOfUnlikeRootsIsScarcelyLessThanOfEqualOnes) {
    const auto central = constants_at(0.0, 0.0);
    const RootSizes sizes{kilograms<CleanMass>(0.8), kCatalogue.value(ConstantId::root_mass_cv)};
    double lost = 0.0, mass = 0.0;
    constexpr int kRoots = 2000;
    for (int i = 0; i < kRoots; ++i) {
        const CleanMass root = sizes.quantile((i + 0.5) / kRoots);
        lost += root.si() * tip_loss_of_root(0.03, root, sizes.mean, central);
        mass += root.si();
    }
    const double ratio = lost / mass / tip_loss(0.03, central);
    EXPECT_NEAR(ratio, sizes.moment(1.0 - central.exponent / 3.0), 1e-3);
    EXPECT_NEAR(ratio, 0.98, 0.005);
}

TEST(TipLoss, StaysBetweenNothingAndItsCapForAnyDraw) {
    for (std::uint64_t i = 0; i < 1000; ++i) {
        RandomStream random(3, "tip bounds", i);
        const auto drawn = constants_at(2.0 * random.normal(), 2.0 * random.normal());
        const double d = 0.2 * random.uniform();
        EXPECT_GE(tip_loss(d, drawn), 0.0);
        EXPECT_LE(tip_loss(d, drawn), kLargestTipLoss);
        EXPECT_LE(tip_loss(d, drawn), tip_loss(1.01 * d, drawn));
        EXPECT_EQ(tip_loss(Length(d), drawn), tip_loss(d, drawn));
    }
}

// harvest.md 1.3 [D], coefficients a tool may use for the middle of a class: 0-2 cm about 0.1-0.3
// %, 2-4 about 3, 4-6 about 9, 6-8 about 19-20, over 8 about 31-40.
TEST(TipBreakClasses, StandForTheirMiddleAndLoseAboutWhatTheSheetSays) {
    const Length open(std::numeric_limits<double>::infinity());
    struct Class {
        Length from, to;
        double low_percent, high_percent;
    };
    const std::array classes{Class{0.0 * unit::cm, 2.0 * unit::cm, 0.1, 0.35},
                             Class{2.0 * unit::cm, 4.0 * unit::cm, 2.5, 3.5},
                             Class{4.0 * unit::cm, 6.0 * unit::cm, 8.0, 10.0},
                             Class{6.0 * unit::cm, 8.0 * unit::cm, 17.0, 20.5},
                             Class{8.0 * unit::cm, open, 29.0, 40.0}};
    for (const auto& c : classes) {
        const double loss =
            100.0 * tip_loss(representative_diameter(c.from, c.to), constants_at(0.0, 0.0));
        EXPECT_GT(loss, c.low_percent) << c.from / unit::cm;
        EXPECT_LT(loss, c.high_percent) << c.from / unit::cm;
    }
    EXPECT_NEAR(representative_diameter(2.0 * unit::cm, 4.0 * unit::cm) / unit::cm, 3.0, 1e-12);
    EXPECT_EQ(representative_diameter(Length(0.0), Length(0.0)), Length(0.0));
}

}  // namespace
}  // namespace beetwright::beet
