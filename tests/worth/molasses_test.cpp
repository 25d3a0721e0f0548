#include "worth/molasses.hpp"

#include <gtest/gtest.h>

#include "sampling_rows.hpp"

namespace beetwright::worth {
namespace {

const Catalogue kCatalogue;

double loss_percent(MolassesFormula formula, double k, double na, double n, double pol_percent) {
    return molasses_loss(formula, kCatalogue, k * unit::mmol_per_100g, na * unit::mmol_per_100g,
                         n * unit::mmol_per_100g, pol_percent * unit::percent_sugar) /
           unit::percent_sugar;
}

// Buchholz et al. 1995, Zuckerindustrie 120:113-121 [V]: SMV = 0.12 (K + Na) + 0.24 N + 0.48.
TEST(Molasses, BuchholzRowsOfTheReferenceSheet) {
    using enum MolassesFormula;
    EXPECT_NEAR(loss_percent(buchholz_1995, 4.0, 0.5, 1.5, 17.0), 1.380, 1e-12);
    EXPECT_NEAR(loss_percent(buchholz_1995, 5.0, 1.0, 2.5, 16.0), 1.800, 1e-12);
    // K 35, Na 3, N 10 mmol/kg, a tenth of that per 100 g: 0.12 x 3.8 + 0.24 + 0.48.
    EXPECT_NEAR(loss_percent(buchholz_1995, 3.5, 0.3, 1.0, 18.0), 1.176, 1e-12);
}

// Burba, Harling and co-workers [V]: NZW = 0.92 K + 0.75 Na + 0.84 N + 2.8 g/kg, times 0.168;
// 8.115 g/kg gives 1.363 %, 10.25 gives 1.722 % [C].
TEST(Molasses, BurbaNonsugarOfBeet) {
    using enum MolassesFormula;
    EXPECT_NEAR(loss_percent(burba_beet, 4.0, 0.5, 1.5, 17.0), 0.168 * 8.115, 1e-9);
    EXPECT_NEAR(loss_percent(burba_beet, 5.0, 1.0, 2.5, 16.0), 0.168 * 10.25, 1e-9);
}

// Burba, Harling and co-workers, 133 thick juices [V]: 0.9665 and 1.382 % nonsugar, times 1.4 [C].
TEST(Molasses, BurbaNonsugarOfThickJuice) {
    using enum MolassesFormula;
    EXPECT_NEAR(loss_percent(burba_thick_juice, 4.0, 0.5, 1.5, 17.0), 1.4 * 0.96654, 1e-9);
    EXPECT_NEAR(loss_percent(burba_thick_juice, 5.0, 1.0, 2.5, 16.0), 1.4 * 1.38192, 1e-9);
}

// Coefficients from memory [M]; the sheet's own recomputation [C] is all there is to check against.
TEST(Molasses, FormulasFromMemoryGiveTheSheetsFigures) {
    using enum MolassesFormula;
    EXPECT_NEAR(loss_percent(reinefeld_1974, 4.0, 0.5, 1.5, 17.0), 1.37, 0.01);
    // Na 300, K 1800, N 450 ppm -> 1.340 %.
    EXPECT_NEAR(loss_percent(carruthers_ppm, 1800.0 / 390.98, 300.0 / 229.90, 450.0 / 140.07, 17.0),
                1.340, 0.001);
    for (const auto& row : molasses_formulas()) {
        const bool from_memory = row.source.substr(0, 3) == "[M]";
        const bool is_one = row.formula == reinefeld_1974 || row.formula == devillers_1988 ||
                            row.formula == carruthers_ppm;
        EXPECT_EQ(from_memory, is_one) << row.key;
    }
}

TEST(Molasses, IsNeverNegative) {
    EXPECT_EQ(loss_percent(MolassesFormula::reinefeld_1974, 0.1, 0.0, 0.0, 17.0), 0.0);
}

// L. Smith, U. Minnesota 1989-90, grower notes 369/487/426 and 376, Zidon 1987 note 408 [V]:
// recoverable sugar in lb per short ton is 20 (pol - molasses loss). One decimal is printed.
TEST(RecoverableSugar, RowsOfPoundsPerShortTon) {
    struct Row {
        double pol, loss, pounds;
    };
    for (const Row& row : {Row{19.66, 1.62, 360.7}, Row{19.40, 1.70, 353.9}, Row{19.1, 1.81, 346},
                           Row{18.9, 1.85, 341}, Row{18.5, 2.00, 330}, Row{17.59, 1.63, 319.2},
                           Row{16.49, 1.70, 295.8}, Row{15.73, 0.0, 314.6}, Row{15.60, 0.0, 311.9},
                           Row{15.00, 0.0, 300.0}}) {
        const auto white = white_sugar_content(
            row.pol * unit::percent_sugar, row.loss * unit::percent_sugar, SugarContent::zero());
        // Three rows are printed without decimals, the rest with one.
        const double printed_to = row.pounds == static_cast<int>(row.pounds) ? 0.5 : 0.11;
        EXPECT_NEAR(2000.0 * white.si(), row.pounds, printed_to);
    }
}

// Hasanvandi et al., J. Crops Improvement, trial 2017-18 [VC]: white sugar 13.63 % of pol 15.75 %
// is an extraction of 86.54 %.
TEST(RecoverableSugar, ExtractionCoefficient) {
    const auto white = white_sugar_content(15.75 * unit::percent_sugar, 1.52 * unit::percent_sugar,
                                           0.6 * unit::percent_sugar);
    EXPECT_NEAR(100.0 * (white / (15.75 * unit::percent_sugar)), 86.54, 0.01);
}

// Franconia, 21 hand-dug sites [V]. Published figures are means over sites, and a mean of products
// is not the product of means; with the rounding of the sugar yield (0.05) the sheet allows 0.1
// t/ha.
TEST(RecoverableSugar, NineteenSequentialSamplingRows) {
    const auto rows = sampling_rows();
    ASSERT_EQ(rows.size(), 19U);
    for (const auto& row : rows) {
        const CleanMassPerArea roots = row.root_t_ha * unit::t_clean_per_ha;
        const SugarPerArea sugar = roots * (row.pol_percent * unit::percent_sugar);
        EXPECT_NEAR(sugar / (1000.0 * unit::kg_sugar_per_ha), row.sugar_t_ha, 0.1)
            << "week " << row.week << " of " << row.year;
    }
}

// The same source, week 41 of 2017 [C]: BZG = 18.5 - 1.15 - 0.6 = 16.75 %, BZE 19.58 t/ha.
TEST(RecoverableSugar, WhiteSugarOfTheRecordWeek) {
    const auto white = white_sugar_content(18.50 * unit::percent_sugar, 1.15 * unit::percent_sugar,
                                           0.6 * unit::percent_sugar);
    EXPECT_NEAR(white / unit::percent_sugar, 16.75, 1e-9);
    const SugarPerArea yield = (116.9 * unit::t_clean_per_ha) * white;
    EXPECT_NEAR(yield / (1000.0 * unit::kg_sugar_per_ha), 19.58, 0.005);
}

}  // namespace
}  // namespace beetwright::worth
