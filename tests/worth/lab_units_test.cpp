#include "worth/lab_units.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "worth/molasses.hpp"

namespace beetwright::worth {
namespace {

using enum Element;
using enum LabUnit;

constexpr std::array kElements{potassium, sodium, amino_nitrogen};
constexpr SugarContent kPol(0.17);

// Trade table [C from atomic weights 39.098, 22.990, 14.007]: 1 mmol/100 g of K, Na, N is 391.0,
// 229.9, 140.1 mg/kg.
TEST(LabUnits, MilligramsPerKilogramOfEachElement) {
    constexpr std::array mg_per_kg_printed{391.0, 229.9, 140.1};
    for (std::size_t e = 0; e < kElements.size(); ++e) {
        EXPECT_NEAR(to_lab(kElements[e], mg_per_kg, 1.0 * unit::mmol_per_100g, kPol),
                    mg_per_kg_printed[e], 0.05);
    }
}

TEST(LabUnits, EveryReadingComesBack) {
    for (const Element element : kElements) {
        for (const auto& row : lab_units()) {
            const auto content = from_lab(element, row.unit, 3.7, kPol);
            EXPECT_NEAR(to_lab(element, row.unit, content, kPol), 3.7, 1e-12) << row.symbol;
        }
    }
}

// One sample in four units: 45 mmol/kg of K is 4.5 mmol/100 g, 4.5 meq/100 g and 1759.4 mg/kg.
TEST(LabUnits, OneSampleReadsTheSameInEachUnit) {
    const AmountContent expected(0.045);
    for (const auto& [unit, reading] : {std::pair{mmol_per_kg, 45.0},
                                        {mmol_per_100g, 4.5},
                                        {meq_per_100g, 4.5},
                                        {mg_per_kg, 1759.41}}) {
        EXPECT_NEAR(from_lab(potassium, unit, reading, kPol).si(), expected.si(), 1e-9);
    }
}

// fwi.co.uk 1 March 1996 [V]: 100 mg amino N per 100 g of sugar is what growers can reach. At 17 %
// sugar that is 17 mg per 100 g of beet, 170 mg/kg, 1.2137 mmol/100 g by 140.07 mg/kg.
TEST(LabUnits, PerSugarGoesByTheBeetsOwnSugar) {
    const auto content = from_lab(amino_nitrogen, mg_per_100g_sugar, 100.0, kPol);
    EXPECT_NEAR(content / unit::mmol_per_100g, 170.0 / 140.07, 1e-9);
    EXPECT_FALSE(from_lab(amino_nitrogen, mg_per_100g_sugar, 100.0, SugarContent()).is_known());
    EXPECT_TRUE(from_lab(amino_nitrogen, mg_per_kg, 100.0, SugarContent()).is_known());
}

// Strube's row [V] as its laboratory prints it: K 35, Na 3, amino N 10 mmol per 1000 g. The
// formula wants mmol/100 g: 0.12 x 3.8 + 0.24 x 1.0 + 0.48 = 1.176 % [D].
TEST(LabUnits, BuchholzFromMillimolesPerKilogram) {
    const auto loss = molasses_loss(MolassesFormula::buchholz_1995, Catalogue(),
                                    from_lab(potassium, mmol_per_kg, 35.0, kPol),
                                    from_lab(sodium, mmol_per_kg, 3.0, kPol),
                                    from_lab(amino_nitrogen, mmol_per_kg, 10.0, kPol), kPol);
    EXPECT_NEAR(loss / unit::percent_sugar, 1.176, 1e-12);
}

// Na 300, K 1800, amino N 450 ppm is 1.340 % [C] by the US coefficients, themselves from memory
// [M]: 1.5 (3.5 x 300 + 2.5 x 1800 + 9.5 x 450) / 11000 = 1.3398.
TEST(LabUnits, UsFormulaFromPartsPerMillion) {
    const auto loss = molasses_loss(MolassesFormula::carruthers_ppm, Catalogue(),
                                    from_lab(potassium, mg_per_kg, 1800.0, kPol),
                                    from_lab(sodium, mg_per_kg, 300.0, kPol),
                                    from_lab(amino_nitrogen, mg_per_kg, 450.0, kPol), kPol);
    EXPECT_NEAR(loss / unit::percent_sugar, 1.5 * (1050.0 + 4500.0 + 4275.0) / 11000.0, 1e-4);
}

}  // namespace
}  // namespace beetwright::worth
