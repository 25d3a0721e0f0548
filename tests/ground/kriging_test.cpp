#include "ground/kriging.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <string>
#include <tuple>
#include <vector>

#include "base/random.hpp"
#include "oracle.hpp"

namespace beetwright::ground {
namespace {

/// Zinc in the flood plain of the Meuse: data set meuse of the R package sp.
struct Meuse {
    Oracle oracle{"ground"};
    std::vector<Point> places;
    std::vector<double> log_zinc;
    Meuse() {
        const int samples = static_cast<int>(oracle.at("samples"));
        for (int i = 1; i <= samples; ++i) {
            const auto name = "sample " + std::to_string(i);
            places.push_back({oracle.at(name + " east"), oracle.at(name + " north")});
            log_zinc.push_back(oracle.at(name + " log zinc"));
        }
    }
};

// R package gstat: variogram(log(zinc) ~ 1, meuse).
TEST(Variogram, TheClassesAreGstats) {
    const Meuse meuse;
    const double cutoff = meuse.oracle.at("cutoff");
    const auto classes = empirical_variogram(meuse.places, meuse.log_zinc, cutoff, cutoff / 15.0);
    ASSERT_EQ(static_cast<double>(classes.size()), meuse.oracle.at("classes"));
    for (std::size_t i = 0; i < classes.size(); ++i) {
        const auto name = "class " + std::to_string(i + 1);
        EXPECT_NEAR(classes[i].distance_m, meuse.oracle.at(name + " distance"), 1e-9);
        EXPECT_NEAR(classes[i].semivariance, meuse.oracle.at(name + " semivariance"), 1e-12);
        EXPECT_EQ(static_cast<double>(classes[i].pairs), meuse.oracle.at(name + " pairs"));
    }
}

// gstat's fit.variogram stops where a step changes its sum of squares little: it agrees to 1e-4 of
// each number, and its misfit is not below ours.
TEST(Variogram, FitsAreGstats) {
    const Meuse meuse;
    const double cutoff = meuse.oracle.at("cutoff");
    const auto classes = empirical_variogram(meuse.places, meuse.log_zinc, cutoff, cutoff / 15.0);
    for (const auto& [shape, name] :
         {std::tuple{VariogramShape::spherical, std::string("Sph")},
          std::tuple{VariogramShape::exponential, std::string("Exp")}}) {
        const auto [ours, misfit] = fit_variogram(classes, shape);
        EXPECT_NEAR(ours.nugget, meuse.oracle.at(name + " nugget"), 1e-4) << name;
        EXPECT_NEAR(ours.sill, meuse.oracle.at(name + " sill"), 1e-4) << name;
        EXPECT_NEAR(ours.range_m, meuse.oracle.at(name + " range"), 1e-4 * ours.range_m) << name;
        const Variogram theirs{shape, meuse.oracle.at(name + " nugget"),
                               meuse.oracle.at(name + " sill"), meuse.oracle.at(name + " range")};
        double their_misfit = 0.0;
        for (const auto& one : classes) {
            const double off = one.semivariance - theirs.semivariance(one.distance_m);
            their_misfit +=
                static_cast<double>(one.pairs) / (one.distance_m * one.distance_m) * off * off;
        }
        EXPECT_LE(misfit, their_misfit * (1.0 + 1e-9)) << name;
    }
}

// gstat's krige with the model 0.59 Sph(897) + 0.05 nugget. A nugget is to it part of what is
// predicted, to us each sample's own error: its variance is ours and a nugget more.
TEST(Kriging, IsGstatsByNeighboursAndByAll) {
    const Meuse meuse;
    const Variogram model{VariogramShape::spherical, 0.05, 0.59, 897.0};
    std::vector<Measured> measured;
    for (std::size_t i = 0; i < meuse.places.size(); ++i) {
        measured.push_back({meuse.places[i], meuse.log_zinc[i], model.nugget});
    }
    const Kriging by_24(measured, model, 24);
    const Kriging by_all(measured, model, measured.size());
    const int places = static_cast<int>(meuse.oracle.at("places"));
    for (int i = 1; i <= places; ++i) {
        const auto name = "place " + std::to_string(i);
        const Point place{meuse.oracle.at(name + " east"), meuse.oracle.at(name + " north")};
        for (const auto& [kriging, which] : {std::tuple{&by_24, std::string(" by 24")},
                                             std::tuple{&by_all, std::string(" by all")}}) {
            const auto ours = kriging->at(place);
            EXPECT_NEAR(ours.value, meuse.oracle.at(name + which), 1e-8) << i << which;
            EXPECT_NEAR(ours.variance + model.nugget, meuse.oracle.at(name + which + " variance"),
                        1e-8)
                << i << which;
        }
    }
}

// Of surfaces drawn from the model itself nine in ten true heights lie in the 90 % interval: 400
// places of 20 surfaces; the band is what 400 effective draws would keep to with 99.9 %.
TEST(Kriging, ItsIntervalsHoldWhatTheySay) {
    const Variogram model{VariogramShape::matern, 0.0, 1.0, 40.0};
    RandomStream random(20311105, "kriging intervals");
    int held = 0;
    int all = 0;
    for (int surface = 0; surface < 20; ++surface) {
        // A sum of cosines has the covariance of its random frequencies; those of a Matern of 3/2
        // in the plane are a bivariate Student's with 3 degrees of freedom.
        constexpr int kWaves = 400;
        std::vector<std::array<double, 3>> waves;
        for (int k = 0; k < kWaves; ++k) {
            double chi2 = 0.0;
            for (int d = 0; d < 3; ++d) {
                const double normal = random.normal();
                chi2 += normal * normal;
            }
            const double scale = std::sqrt(3.0 / chi2) / (model.range_m * std::sqrt(3.0));
            waves.push_back(
                {scale * random.normal(), scale * random.normal(), 2.0 * M_PI * random.uniform()});
        }
        const auto height = [&](const Point& at) {
            double sum = 0.0;
            for (const auto& [east, north, phase] : waves) {
                sum += std::cos(east * at.east_m + north * at.north_m + phase);
            }
            return sum * std::sqrt(2.0 / kWaves);
        };
        std::vector<Measured> measured;
        for (int i = 0; i < 150; ++i) {
            const Point at{300.0 * random.uniform(), 300.0 * random.uniform()};
            measured.push_back({at, height(at) + 0.1 * random.normal(), 0.01});
        }
        const Kriging kriging(measured, model, 24);
        for (int i = 0; i < 20; ++i) {
            const Point at{300.0 * random.uniform(), 300.0 * random.uniform()};
            const auto [value, variance] = kriging.at(at);
            held += std::abs(height(at) - value) <= 1.6449 * std::sqrt(variance) ? 1 : 0;
            ++all;
        }
    }
    EXPECT_GT(held, 0.85 * all);
    EXPECT_LT(held, 0.95 * all);
}

TEST(Kriging, WhereAllIsTheSameButForErrorsItGivesTheirMean) {
    const Variogram flat{VariogramShape::spherical, 0.0, 0.0, 10.0};
    const Kriging kriging({{{0.0, 0.0}, 1.0, 1.0}, {{5.0, 0.0}, 4.0, 0.5}}, flat, 16);
    EXPECT_NEAR(kriging.at({2.0, 0.0}).value, (1.0 + 8.0) / 3.0, 1e-12);
    EXPECT_NEAR(kriging.at({2.0, 0.0}).variance, 1.0 / 3.0, 1e-12);
}

}  // namespace
}  // namespace beetwright::ground
