#include "worth/molasses.hpp"

#include <array>

namespace beetwright::worth {
namespace {

constexpr std::array<MolassesFormulaRow, kMolassesFormulas> kRows{{
    {MolassesFormula::buchholz_1995, "buchholz_1995", "new Braunschweig formula (1995)",
     "[V] Buchholz, Maerlaender, Puke, Glattkowski, Thielecke 1995, Zuckerindustrie 120:113-121"},
    {MolassesFormula::reinefeld_1974, "reinefeld_1974", "original Braunschweig formula (1974)",
     "[M] Reinefeld, Emmerich, Baumgarten, Winner, Beiss 1974, Zucker 27:2-15"},
    {MolassesFormula::burba_beet, "burba_beet", "nonsugar from beet analysis",
     "[V] Burba, Harling and co-workers, nonsugar and ion balances of thick juice, part 2, "
     "Zuckerindustrie"},
    {MolassesFormula::burba_thick_juice, "burba_thick_juice", "nonsugar of laboratory thick juice",
     "[V] Burba, Harling and co-workers, 133 laboratory thick juices, Zuckerindustrie"},
    {MolassesFormula::devillers_1988, "devillers_1988", "French formula (1988)",
     "[M] Devillers 1988"},
    {MolassesFormula::carruthers_ppm, "carruthers_ppm", "as US laboratories use it",
     "[M] after Carruthers and Oldfield 1961; Hilde and others 1983"},
}};

}  // namespace

std::span<const MolassesFormulaRow> molasses_formulas() {
    return kRows;
}

SugarContent molasses_loss(MolassesFormula formula, const Catalogue& catalogue,
                           AmountContent potassium, AmountContent sodium,
                           AmountContent amino_nitrogen, SugarContent pol) {
    const auto c =
        molasses_coefficients(formula, [&](ConstantId id) { return catalogue.value(id); });
    return SugarContent(
        molasses_loss(c, potassium.si(), sodium.si(), amino_nitrogen.si(), pol.si()));
}

SugarContent white_sugar_content(SugarContent pol, SugarContent molasses, SugarContent fixed_loss) {
    return pol - molasses - fixed_loss;
}

}  // namespace beetwright::worth
