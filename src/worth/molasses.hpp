// Sugar that stays in molasses: the published formulas, from potassium, sodium and amino nitrogen.
//
// Every formula is one line in the contents, so one struct of coefficients serves them all and a
// Monte Carlo loop holds no branch. docs/methods/molasses.md.
#pragma once

#include <algorithm>
#include <cstdint>
#include <span>
#include <string_view>

#include "base/catalogue.hpp"
#include "base/quantity.hpp"

namespace beetwright::worth {

enum class MolassesFormula : std::uint8_t {
    buchholz_1995,      ///< new Braunschweig formula: the default
    reinefeld_1974,     ///< original Braunschweig formula
    burba_beet,         ///< nonsugar from beet analysis, times 0.168
    burba_thick_juice,  ///< nonsugar of laboratory thick juice, times 1.4
    devillers_1988,
    carruthers_ppm,  ///< as US laboratories use it, after Carruthers
};
inline constexpr std::size_t kMolassesFormulas = 6;

struct MolassesFormulaRow {
    MolassesFormula formula;
    std::string_view key;  ///< for files: "buchholz_1995"
    std::string_view words;
    std::string_view source;  ///< with its tag: [V] seen, [M] from memory
};
std::span<const MolassesFormulaRow> molasses_formulas();

/// molasses loss [kg sugar / kg clean beet] = constant + error + per_potassium K + per_sodium Na
///     + per_amino_nitrogen N + per_pol pol, with K, Na, N in mol/kg clean beet and pol in kg/kg.
/// The two nonsugar formulas add a term where the beet's ion balance is negative; their sources'
/// definition of that balance could not be read, so they hold for beet with enough alkali only.
struct MolassesCoefficients {
    double per_potassium = 0.0;
    double per_sodium = 0.0;
    double per_amino_nitrogen = 0.0;
    double per_pol = 0.0;
    double constant = 0.0;
    double error = 0.0;  ///< how far this draw's formula is off [kg/kg]
};

/// [kg sugar / kg clean beet], never negative. Potassium, sodium, nitrogen in mol/kg clean beet,
/// pol in kg/kg.
inline double molasses_loss(const MolassesCoefficients& c, double potassium, double sodium,
                            double amino_nitrogen, double pol) {
    const double loss = c.constant + c.error + c.per_potassium * potassium + c.per_sodium * sodium +
                        c.per_amino_nitrogen * amino_nitrogen + c.per_pol * pol;
    return std::max(0.0, loss);
}

/// The coefficients of a formula in one draw of the constants; get(ConstantId) gives a constant's
/// SI value in that draw.
template <class Get>
MolassesCoefficients molasses_coefficients(MolassesFormula formula, Get&& get) {
    using enum ConstantId;
    MolassesCoefficients c;
    const auto set = [&](ConstantId potassium, ConstantId sodium, ConstantId nitrogen,
                         ConstantId constant) {
        c.per_potassium = get(potassium);
        c.per_sodium = get(sodium);
        c.per_amino_nitrogen = get(nitrogen);
        c.constant = get(constant);
    };
    switch (formula) {
        case MolassesFormula::buchholz_1995:
            set(buchholz_cations, buchholz_cations, buchholz_amino_nitrogen, buchholz_constant);
            break;
        case MolassesFormula::reinefeld_1974:
            set(reinefeld_cations, reinefeld_cations, reinefeld_amino_nitrogen, reinefeld_constant);
            break;
        case MolassesFormula::burba_beet:
            set(burba_beet_potassium, burba_beet_sodium, burba_beet_amino_nitrogen,
                burba_beet_constant);
            break;
        case MolassesFormula::burba_thick_juice:
            set(burba_juice_cations, burba_juice_cations, burba_juice_amino_nitrogen,
                burba_juice_constant);
            c.per_pol = get(burba_juice_pol);
            break;
        case MolassesFormula::devillers_1988:
            set(devillers_cations, devillers_cations, devillers_amino_nitrogen, devillers_constant);
            break;
        case MolassesFormula::carruthers_ppm:
            set(carruthers_potassium, carruthers_sodium, carruthers_amino_nitrogen,
                carruthers_constant);
            break;
    }
    c.error = get(molasses_formula_error);
    return c;
}

/// One beet's molasses loss by a formula at the catalogue's central values.
SugarContent molasses_loss(MolassesFormula formula, const Catalogue& catalogue,
                           AmountContent potassium, AmountContent sodium,
                           AmountContent amino_nitrogen, SugarContent pol);

/// White sugar content [kg/kg]: pol less molasses loss less the fixed loss of processing.
SugarContent white_sugar_content(SugarContent pol, SugarContent molasses, SugarContent fixed_loss);

}  // namespace beetwright::worth
