#include "beet/topping.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <string_view>

#include "base/estimate.hpp"
#include "base/random.hpp"
#include "beet/shape.hpp"
#include "beet/wound.hpp"
#include "oracle.hpp"

namespace beetwright::beet {
namespace {

const Catalogue kCatalogue;

struct DepthRow {
    std::string_view source;
    double depth_cm;
    double loss_percent;
};

// Mass lost by topping too deep, all [V]: AIMCRA Spain, Baldoni Bologna, IRS Netherlands, BISZ
// south Germany.
constexpr std::array kPublished{DepthRow{"AIMCRA", 1, 8},   DepthRow{"AIMCRA", 2, 15},
                                DepthRow{"AIMCRA", 3, 20},  DepthRow{"Bologna", 1, 8},
                                DepthRow{"Bologna", 2, 15}, DepthRow{"IRS", 1, 6},
                                DepthRow{"IRS", 2, 15},     DepthRow{"BISZ", 1, 5}};

TEST(OverTopping, FourPublishedTablesLieWithinItsSpread) {
    const auto loss = [](double depth_cm, double score) {
        return 100.0 *
               over_topping_loss(0.01 * depth_cm,
                                 kCatalogue.at_score(ConstantId::topping_loss_per_depth, score));
    };
    for (const auto& row : kPublished) {
        EXPECT_GE(row.loss_percent, loss(row.depth_cm, -kIntervalZ) - 1e-9) << row.source;
        EXPECT_LE(row.loss_percent, loss(row.depth_cm, kIntervalZ) + 1e-9) << row.source;
    }
}

TEST(OverTopping, CentralLineIsTheLeastSquaresLineThroughZero) {
    // R: lm(lost ~ 0 + depth) over the eight points, [% per cm]; the sheet's 7.1 [D].
    EXPECT_NEAR(kCatalogue.value(ConstantId::topping_loss_per_depth),
                Oracle("beet").at("topping line through zero"), 0.05);
}

/// The usual root's crown, at a score of its height.
Crown crown_at(double height_score) {
    const double ratio = kCatalogue.at_score(ConstantId::topping_crown_height, height_score);
    return crown_of(
        shape_of(Volume(kCatalogue.value(ConstantId::root_volume)),
                 kCatalogue.value(ConstantId::root_cone_angle), kWholeTailRadius, ratio),
        ratio);
}
const Volume kRoot(kCatalogue.value(ConstantId::root_volume));

/// Share lost by a cut this far below one that leaves the correct scar.
double loss_below_correct(Length depth, const Crown& crown) {
    const Length correct =
        crown.cut_depth(Length(kCatalogue.value(ConstantId::topping_correct_scar)));
    return (crown.volume_above(correct + depth) - crown.volume_above(correct)) / kRoot;
}

TEST(OverToppingByScar, CrownVolumeIsThatOfTheEllipsoid) {
    const Crown crown{5.2 * unit::cm, 2.6 * unit::cm};
    // Half an ellipsoid: 2/3 pi r^2 h.
    const double whole = 2.0 / 3.0 * std::numbers::pi * 5.2 * 5.2 * 2.6;
    EXPECT_NEAR(crown.volume_above(crown.height) / unit::cm3, whole, 1e-9);
    EXPECT_EQ(crown.volume_above(Length(0.0)).si(), 0.0);
    // A cut as wide as the root lies at its widest place.
    EXPECT_NEAR(crown.cut_depth(10.4 * unit::cm) / unit::cm, 2.6, 1e-12);
}

// The scar that a cut leaves and the depth of the cut say the same: d(volume) = area of the scar x
// d(depth), by central differences.
TEST(OverToppingByScar, AThinSliceHasTheAreaOfItsScar) {
    const Crown crown = crown_at(0.0);
    for (const double scar_cm : {1.0, 3.8, 6.0, 9.0}) {
        const Length depth = crown.cut_depth(scar_cm * unit::cm);
        const Length step = 1e-4 * unit::cm;
        const Area slice = (1.0 / (2.0 * step)) *
                           (crown.volume_above(depth + step) - crown.volume_above(depth - step));
        EXPECT_NEAR(slice / disc(scar_cm * unit::cm), 1.0, 1e-6);
    }
}

// The tables say 5-8 % for 1 cm and 15 % for 2 cm below a correct cut (AIMCRA, Baldoni, IRS, BISZ
// [V]); the spread of the crown's height holds them, and its flat side the higher ones.
TEST(OverToppingByScar, CrownsHeightAgreesWithTheDepthTables) {
    const auto percent = [](double depth_cm, double score) {
        return 100.0 * loss_below_correct(depth_cm * unit::cm, crown_at(score));
    };
    EXPECT_NEAR(percent(1.0, 0.0), 5.0, 0.5);   // BISZ
    EXPECT_NEAR(percent(2.0, 0.0), 15.0, 1.0);  // AIMCRA, Baldoni, IRS
    EXPECT_GT(percent(1.0, -kIntervalZ), 6.0);  // IRS
    EXPECT_LT(percent(1.0, kIntervalZ), 5.0);
}

// BBRO 2011-12 [V]: yield loss rises ever faster with scar diameter.
TEST(OverToppingByScar, RisesFasterThanTheScarDoes) {
    const auto loss = [](double scar_cm) {
        return over_topping_loss_of_scar(scar_cm * unit::cm, 2.0 * unit::cm, crown_at(0.0), kRoot);
    };
    EXPECT_EQ(loss(1.5), 0.0);
    double before = 0.0, step_before = 0.0;
    for (const double scar : {3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0}) {
        const double step = loss(scar) - before;
        EXPECT_GT(step, step_before);
        before = loss(scar);
        step_before = step;
    }
}

// BBRO 2011-12 [V]: the ratio of scar to widest diameter holds across sites. Roots of one shape:
// everything 1.3 times as wide loses the same share.
TEST(OverToppingByScar, GoesByTheRatioOfScarToWidestPlace) {
    const Crown crown = crown_at(0.0);
    constexpr double kWider = 1.3;
    const Crown wide{kWider * crown.radius, kWider * crown.height};
    const Volume wide_root = (kWider * kWider * kWider) * kRoot;
    for (const double scar_cm : {3.0, 5.4, 8.0}) {
        EXPECT_NEAR(over_topping_loss_of_scar(kWider * scar_cm * unit::cm, kWider * 2.0 * unit::cm,
                                              wide, wide_root),
                    over_topping_loss_of_scar(scar_cm * unit::cm, 2.0 * unit::cm, crown, kRoot),
                    1e-12);
    }
}

// BBRO 2011-12 [V]: mean scars of four systems 2.1, 4.0, 4.9, 5.4 cm. Targets: 2 cm (BISZ [V]), 3-5
// cm for classic scalping (KWS-CZ [V]); 38 mm is common practice, no source. On a crown this flat
// the widest of them costs less than a centimetre of depth: scars do not tell a deep cut until they
// are wider. docs/methods/topping.md.
TEST(OverToppingByScar, PublishedMeanScarsCostUnderTwoPerCent) {
    for (const double score : {-kIntervalZ, 0.0, kIntervalZ}) {
        double before = -1.0;
        for (const double scar_cm : {2.1, 4.0, 4.9, 5.4}) {
            const double loss = over_topping_loss_of_scar(scar_cm * unit::cm, 2.0 * unit::cm,
                                                          crown_at(score), kRoot);
            EXPECT_GT(loss, before);
            EXPECT_LT(loss, 0.02);
            before = loss;
        }
    }
    const double correct_cm = 100.0 * kCatalogue.value(ConstantId::topping_correct_scar);
    EXPECT_GE(correct_cm, 3.0);
    EXPECT_LE(correct_cm, 5.0);
}

// crown_above_scar() is the volume above the scar: pi r^2 h (x^2 - x^3/3) at depth x h, worked out
// another way.
TEST(OverToppingByScar, VolumeAboveAScarIsThatAboveItsDepth) {
    const Crown crown = crown_at(0.0);
    const Volume cylinder = std::numbers::pi * (crown.radius * crown.radius * crown.height);
    for (const double across : {0.0, 0.1, 0.38, 0.7, 0.95, 1.0, 1.4}) {
        const Length scar = (2.0 * across) * crown.radius;
        EXPECT_NEAR(crown_above_scar(across), crown.volume_above(crown.cut_depth(scar)) / cylinder,
                    1e-12);
    }
    EXPECT_NEAR(crown_above_scar(1.0), 2.0 / 3.0, 1e-15);
    EXPECT_TRUE(std::isnan(crown_above_scar(std::nan(""))));
}

TEST(OverToppingByScar, OfManyBeetsIsThatOfEachOnAverage) {
    const auto scars = scar_constants([](ConstantId id) { return kCatalogue.value(id); });
    const Crown crown = crown_at(0.0);
    const double widest_cm = 2.0 * crown.radius / unit::cm;
    const Length correct(kCatalogue.value(ConstantId::topping_correct_scar));
    double above = 0.0;
    double loss = 0.0;
    for (const double scar_cm : {5.0, 7.0, 9.5}) {
        above += crown_above_scar(scar_cm / widest_cm) / 3.0;
        loss += over_topping_loss_of_scar(scar_cm * unit::cm, correct, crown, kRoot) / 3.0;
    }
    // The catalogue's widest place is rounded to 1 mm.
    EXPECT_NEAR(scars.widest_m, 0.01 * widest_cm, 0.0005);
    EXPECT_NEAR(over_topping_loss_of_scars(above, scars), loss, 0.01 * loss);
    EXPECT_EQ(over_topping_loss_of_scars(0.0, scars), 0.0);
}

TEST(OverTopping, OfAClassIsMoreForTooDeepThanForSlanted) {
    const auto get = [](ConstantId id) { return kCatalogue.value(id); };
    EXPECT_GT(loss_of_deep_cut(get), loss_of_slanted_cut(get));
    EXPECT_GT(loss_of_slanted_cut(get), 0.0);
    // A beet judged too deep loses no less than half a centimetre by the least table (BISZ, 5 % per
    // cm) less a quarter, and no more than the most say of 2 cm (15 %).
    for (const double score : {-kIntervalZ, kIntervalZ}) {
        const double deep =
            loss_of_deep_cut([&](ConstantId id) { return kCatalogue.at_score(id, score); });
        EXPECT_GT(deep, 0.75 * 0.5 * 0.05);
        EXPECT_LT(deep, 0.15);
    }
}

TEST(OverTopping, StaysBetweenNothingAndItsCapAndGrowsWithDepth) {
    for (std::uint64_t i = 0; i < 500; ++i) {
        RandomStream random(8, "topping bounds", i);
        const double per_depth =
            kCatalogue.at_score(ConstantId::topping_loss_per_depth, 2.0 * random.normal());
        const double depth = -0.02 + 0.3 * random.uniform();
        const double loss = over_topping_loss(depth, per_depth);
        EXPECT_GE(loss, 0.0);
        EXPECT_LE(loss, kLargestOverTopping);
        EXPECT_GE(over_topping_loss(depth + 0.001, per_depth), loss);
        EXPECT_EQ(over_topping_loss(Length(depth), per_depth), loss);
    }
}

}  // namespace
}  // namespace beetwright::beet
