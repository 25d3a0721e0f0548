#include "check/strip.hpp"

#include <gtest/gtest.h>

#include <array>

#include "base/unit.hpp"
#include "check/lab.hpp"
#include "check/tare.hpp"

namespace beetwright::check {
namespace {

double in_unit(CleanMassPerArea loss, const char* symbol) {
    return find_unit(symbol)->from_si(loss.si());
}

// US co-op loss appraisal [V]: 5 lb with a 2 lb bucket on 110 square feet is 0.6 short ton/acre by
// their divisor of 5; exactly 0.594, and 1.332 t/ha [D].
TEST(BucketCheck, ThreePoundsOnAHundredAndTenSquareFeet) {
    const auto loss =
        bucket_loss(pounds<CleanMass>(5.0), pounds<CleanMass>(2.0), 110.0 * unit::square_foot);
    EXPECT_NEAR(in_unit(loss, "short ton/acre"), 0.594, 5e-4);
    EXPECT_NEAR(in_unit(loss, "t/ha"), 1.332, 6e-4);
}

// The same source: four ways to lay out 110 square feet at 22-inch rows.
TEST(BucketCheck, FourLayoutsOfAHundredAndTenSquareFeet) {
    for (const auto& [rows, feet] : {std::pair{4, 15.0}, {6, 10.0}, {8, 7.5}, {12, 5.0}}) {
        EXPECT_NEAR(strip_area(rows, 22.0 * unit::inch, feet * unit::foot) / unit::square_foot,
                    110.0, 1e-9);
    }
}

// Factors of short ton/acre per lb for 10 ft of rows, and t/ha per kg [D].
TEST(BucketCheck, FactorsByRowsAndSpacing) {
    struct Row {
        int rows;
        double spacing_in, factor;
    };
    for (const Row& row : {Row{6, 22, 0.198}, Row{6, 28, 0.1556}, Row{6, 30, 0.1452},
                           Row{8, 22, 0.1485}, Row{4, 22, 0.297}}) {
        const Area area = strip_area(row.rows, row.spacing_in * unit::inch, 10.0 * unit::foot);
        const auto loss = bucket_loss(pounds<CleanMass>(1.0), pounds<CleanMass>(0.0), area);
        EXPECT_NEAR(in_unit(loss, "short ton/acre"), row.factor, 6e-5);
    }
    for (const auto& [area_m2, factor] : {std::pair{27.0, 0.370}, {30.0, 0.333}, {60.0, 0.1667}}) {
        const auto loss =
            bucket_loss(kilograms<CleanMass>(1.0), kilograms<CleanMass>(0.0), area_m2 * unit::m2);
        EXPECT_NEAR(in_unit(loss, "t/ha"), factor, 5e-4);
    }
    EXPECT_NEAR(strip_area(6, 45.0 * unit::cm, 10.0 * unit::m).si(), 27.0, 1e-12);
}

DugStrip strip(double whole_kg) {
    DugStrip one;
    one.area = Area(60.0);
    one.whole_roots = CleanMass(whole_kg);
    one.pieces = CleanMass(1.0);
    one.tails = CleanMass(2.0);
    return one;
}

TEST(StripLosses, AreMeansOverTheStrips) {
    const std::array strips{strip(3.0), strip(5.0), strip(4.0)};
    const auto losses = strip_losses(strips, Catalogue{});
    EXPECT_NEAR(losses.whole_roots.mean, 4.0 / 60.0, 1e-12);
    EXPECT_NEAR(losses.pieces.mean, 1.0 / 60.0, 1e-12);
    EXPECT_NEAR(losses.tails_found.mean, 2.0 / 60.0, 1e-12);
}

TEST(StripLosses, OneEmptyStripDoesNotProveAnEmptyField) {
    const std::array strips{strip(0.0)};
    const auto losses = strip_losses(strips, Catalogue{});
    EXPECT_EQ(losses.whole_roots.mean, 0.0);
    EXPECT_GT(losses.whole_roots.sd, 0.0);
}

TEST(Tare, IsPerCleanBeet) {
    TareSample sample;
    sample.gross = MassWithSoil(23.0);
    sample.soil = Mass(2.0);
    sample.tops = Mass(1.0);
    EXPECT_EQ(clean_mass(sample), CleanMass(20.0));
    const auto tare = tare_of({&sample, 1}, Catalogue{});
    ASSERT_TRUE(tare.soil && tare.tops);
    EXPECT_NEAR(tare.soil->mean, 0.1, 1e-12);
    EXPECT_NEAR(tare.tops->mean, 0.05, 1e-12);
    sample.tops = Mass();
    EXPECT_FALSE(tare_of({&sample, 1}, Catalogue{}).tops.has_value());
}

TEST(Lab, LeavesOutWhatWasNotDetermined) {
    LabSample sample;
    sample.pol = SugarContent(0.18);
    const auto lab = lab_of({&sample, 1}, Catalogue{});
    ASSERT_TRUE(lab.pol.has_value());
    EXPECT_EQ(lab.pol->mean, 0.18);
    EXPECT_FALSE(lab.potassium.has_value());
}

}  // namespace
}  // namespace beetwright::check
