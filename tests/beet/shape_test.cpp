#include "beet/shape.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <string>

#include "base/random.hpp"
#include "beet/tip.hpp"
#include "oracle.hpp"

namespace beetwright::beet {
namespace {

const Catalogue kCatalogue;

// Kumbar et al. 2016 [V], 100 roots lifted by hand: volume 757.14 +- 239.45 cm3, surface 468.20 +-
// 102.98 cm2, full angle 25.29 degrees, density 1050.55 kg/m3.
constexpr double kVolume_cm3 = 757.14;
constexpr double kVolumeCv = 239.45 / 757.14;
constexpr double kSurface_cm2 = 468.20;
constexpr double kSurfaceCv = 102.98 / 468.20;

double angle() {
    return kCatalogue.value(ConstantId::root_cone_angle);
}
RootShape usual_shape(Length tail, double cap_ratio) {
    return shape_of(kVolume_cm3 * unit::cm3, angle(), tail, cap_ratio);
}

TEST(RootShape, HasTheVolumeAndAngleItWasSolvedFor) {
    for (std::uint64_t i = 0; i < 200; ++i) {
        RandomStream random(5, "shapes", i);
        const Volume volume = (100.0 + 2000.0 * random.uniform()) * unit::cm3;
        const double full_angle = 0.2 + 0.6 * random.uniform();
        const auto shape =
            shape_of(volume, full_angle, random.uniform() * unit::cm, 0.2 + 0.8 * random.uniform());
        EXPECT_NEAR(shape.volume() / volume, 1.0, 1e-12);
        EXPECT_NEAR(
            2.0 * std::atan((shape.shoulder_radius - shape.tail_radius) / shape.cone_length),
            full_angle, 1e-12);
    }
}

// A sharp cone under a hemisphere, by hand: pi r^2 (cone_length / 3 + 2 r / 3) and pi r slant + 2
// pi r^2; with r = 3, length 4: slant 5, volume 9 pi (4/3 + 2) = 30 pi, surface 15 pi + 18 pi = 33
// pi.
TEST(RootShape, ConeAndHemisphereByHand) {
    const RootShape shape{Length(3.0), Length(0.0), Length(4.0), Length(3.0)};
    EXPECT_NEAR(shape.volume().si(), 30.0 * std::numbers::pi, 1e-12);
    EXPECT_NEAR(shape.surface().si(), 33.0 * std::numbers::pi, 1e-12);
}

// The source gives no tail and no cap: any sensible ones must do. Surfaces go with mass^(2/3), so
// the mean surface of roots that vary by 0.32 is that of the mean root times the moment 2/3: 0.989.
TEST(RootShape, OfTheMeasuredVolumeAndAngleHasTheMeasuredSurface) {
    const double moment = RootSizes{kilograms<CleanMass>(0.8), kVolumeCv}.moment(2.0 / 3.0);
    for (const double tail_cm : {0.25, 0.5, 1.0, 1.5}) {
        for (const double cap_ratio : {0.3, 0.5, 0.75, 1.0}) {
            const auto shape = usual_shape(tail_cm * unit::cm, cap_ratio);
            EXPECT_NEAR(moment * (shape.surface() / unit::cm2), kSurface_cm2, 0.05 * kSurface_cm2)
                << tail_cm << ' ' << cap_ratio;
        }
    }
}

// Roots of one shape: surface^3 goes with volume^2, so a lognormal's log-spread is two thirds of
// the volume's. 0.21, published 0.22 [V].
TEST(RootShape, SurfacesVaryAsTheVolumesSayTheyShould) {
    const RootSizes volumes{kilograms<CleanMass>(0.8), kVolumeCv};
    const double mean = volumes.moment(2.0 / 3.0);
    const double cv = std::sqrt(volumes.moment(4.0 / 3.0) / (mean * mean) - 1.0);
    EXPECT_NEAR(cv, kSurfaceCv, 0.015);
}

// The catalogue's rows are those of the source.
TEST(RootShape, CatalogueHoldsTheMeasuredRoot) {
    EXPECT_NEAR(kCatalogue.value(ConstantId::root_volume) * 1e6, kVolume_cm3, 0.2);
    EXPECT_NEAR(kCatalogue.value(ConstantId::root_surface) * 1e4, kSurface_cm2, 0.3);
    EXPECT_NEAR(kCatalogue.value(ConstantId::root_density), 1050.55, 0.1);
    EXPECT_NEAR(kCatalogue.value(ConstantId::root_cone_angle), 25.29 * std::numbers::pi / 180.0,
                1e-9);
}

// A break takes the cone's end: between the end of the tail and a break of this diameter the shape
// holds the tip of tip.hpp less what was beyond the tail.
TEST(RootShape, LosesTheTipOfTipHpp) {
    const auto whole = usual_shape(0.5 * unit::cm, 0.5);
    const Length diameter = 4.0 * unit::cm;
    const auto broken =
        RootShape{whole.shoulder_radius, 0.5 * diameter,
                  (whole.shoulder_radius - 0.5 * diameter) * (1.0 / std::tan(0.5 * angle())),
                  whole.cap_height};
    const Volume tip =
        cone_tip_volume(diameter, angle()) - cone_tip_volume(1.0 * unit::cm, angle());
    EXPECT_NEAR((whole.volume() - broken.volume()) / tip, 1.0, 1e-9);
}

TEST(RootSizes, MomentsAreThoseOfTheLognormal) {
    const RootSizes sizes{kilograms<CleanMass>(0.9), 0.45};
    const Oracle r("beet");
    EXPECT_EQ(sizes.moment(1.0), 1.0);
    // By quadrature in R; 1/3 is the mean diameter, 2/3 the mean surface, 0.3 the tail's.
    struct Row {
        double power;
        std::string name;
    };
    for (const Row& row : {Row{1.0 / 3.0, "0.3333"}, Row{2.0 / 3.0, "0.6667"}, Row{2.0, "2.0000"},
                           Row{0.3, "0.3000"}}) {
        EXPECT_NEAR(sizes.moment(row.power), r.at("lognormal moment " + row.name), 1e-10);
    }
    // Median of a lognormal: mean / sqrt(1 + CV^2).
    EXPECT_NEAR(sizes.quantile(0.5).si(), 0.9 / std::sqrt(1.0 + 0.45 * 0.45), 1e-12);
}

}  // namespace
}  // namespace beetwright::beet
