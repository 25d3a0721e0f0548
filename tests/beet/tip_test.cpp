#include "beet/tip.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <string_view>

#include "base/estimate.hpp"
#include "base/random.hpp"

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

TEST(TipLoss, SpreadIsNoWiderThanTheTablesAskFor) {
    // The tables differ from the fit by up to a quarter; a band of a half to double would prove
    // nothing.
    for (const double diameter_m : {0.03, 0.05, 0.08}) {
        const Band band = band_at(diameter_m);
        EXPECT_LT(band.high / band.low, 2.2) << diameter_m;
    }
}

TEST(TipLoss, CentralLineIsTheLogLogFitOfTheEightPoints) {
    // Least squares on logarithms, centred on 5 cm, worked out here.
    double sum_x = 0.0, sum_y = 0.0, sum_xx = 0.0, sum_xy = 0.0;
    const auto n = static_cast<double>(kPublished.size());
    for (const auto& row : kPublished) {
        const double x = std::log(row.diameter_cm / 5.0);
        const double y = std::log(row.loss_percent);
        sum_x += x;
        sum_y += y;
        sum_xx += x * x;
        sum_xy += x * y;
    }
    const double slope = (n * sum_xy - sum_x * sum_y) / (n * sum_xx - sum_x * sum_x);
    const double at_5cm = std::exp((sum_y - slope * sum_x) / n);
    const auto central = constants_at(0.0, 0.0);
    EXPECT_NEAR(central.exponent, slope, 0.005);
    EXPECT_NEAR(100.0 * central.loss_at_5cm, at_5cm, 0.01);
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

TEST(TipBreakClasses, StandForTheirMiddle) {
    EXPECT_NEAR(representative_diameter(2.0 * unit::cm, 4.0 * unit::cm) / unit::cm, 3.0, 1e-12);
    EXPECT_EQ(representative_diameter(Length(0.0), Length(0.0)), Length(0.0));
    const Length open(std::numeric_limits<double>::infinity());
    // Class coefficients a tool may use [D]: over 8 cm about 31-40 %.
    const double beyond_8cm =
        tip_loss(representative_diameter(8.0 * unit::cm, open).si(), constants_at(0.0, 0.0));
    EXPECT_GT(beyond_8cm, 0.25);
    EXPECT_LT(beyond_8cm, 0.40);
}

}  // namespace
}  // namespace beetwright::beet
