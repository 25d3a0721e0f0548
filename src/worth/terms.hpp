// Payment terms as data: what a buyer pays for beet, by sugar, date, distance and cleanness.
//
// A scheme is built from parts that published contracts share; a part that is left empty does
// nothing. Terms never hold code: a new year's contract is a new file. docs/methods/terms.md.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/quantity.hpp"
#include "base/result.hpp"
#include "base/time.hpp"
#include "worth/molasses.hpp"

namespace beetwright::worth {

/// Between two sugar contents the price changes by this share of the base price per unit of
/// content: +0.9 % per 0.1 point is 9 per unit. Steps do not overlap; beyond them the price stands
/// still.
struct SlideStep {
    SugarContent from;
    SugarContent to;
    double change_per_content = 0.0;
    friend bool operator==(const SlideStep&, const SlideStep&) = default;
};

/// Payment by recoverable sugar: price x (pol - molasses loss - fixed loss) - charge, per clean
/// mass.
struct RecoverablePayment {
    MoneyPerSugar price;
    MoneyPerCleanMass charge = MoneyPerCleanMass::zero();
    SugarContent fixed_loss = SugarContent::zero();
    friend bool operator==(const RecoverablePayment&, const RecoverablePayment&) = default;
};

/// Added per paid clean mass on the days [from, to]: `at_from`, changing by `per_day` each day
/// after.
struct DatedSupplement {
    Day from{};
    Day to{};
    MoneyPerCleanMass at_from;
    MoneyPerCleanMass per_day = MoneyPerCleanMass::zero();
    friend bool operator==(const DatedSupplement&, const DatedSupplement&) = default;
};

/// Added to the base payment as a share of it, on the days [from, to].
struct DatedPremium {
    Day from{};
    Day to{};
    double share = 0.0;
    friend bool operator==(const DatedPremium&, const DatedPremium&) = default;
};

enum class TareRule {
    measured,  ///< soil and tops come off as the tare samples found them; clean mass is paid in
               ///< full
    fixed,     ///< besides, a fixed share of the clean mass is taken off for crowns
};

/// Money for the way to the factory, per mass: factor x (fixed + sum over bands of rate x length
/// in the band).
template <class MoneyPerMassOnABasis>
struct HaulTariff {
    using Rate = decltype(MoneyPerMassOnABasis{} / Length{});
    struct Band {
        Length from;
        Length to;
        Rate rate;
        friend bool operator==(const Band&, const Band&) = default;
    };
    MoneyPerMassOnABasis fixed = MoneyPerMassOnABasis::zero();
    std::vector<Band> bands;
    double factor = 1.0;
    friend bool operator==(const HaulTariff&, const HaulTariff&) = default;
};

using MoneyPerMassWithSoil = Quantity<Dim{.with_soil = -1, .money = 1}>;
using HaulAllowance = HaulTariff<MoneyPerCleanMass>;
using HaulAllowanceWithSoil = HaulTariff<MoneyPerMassWithSoil>;
using HaulBand = HaulAllowance::Band;
using MoneyPerCleanMassLength = HaulAllowance::Rate;

/// What the haul costs the grower, per mass with soil.
struct HaulCost {
    MoneyPerMassWithSoil fixed{0.0};
    Quantity<Dim{.length = -1, .with_soil = -1, .money = 1}> per_length{0.0};
    friend bool operator==(const HaulCost&, const HaulCost&) = default;
};

/// What a season's contract covers; beet beyond it is paid less. By mass, loads count in order of
/// delivery; by area, the share of the grown area that is not contracted is beyond in every load.
/// A limit that is not known (NaN) does not limit.
struct Quota {
    CleanMass contracted;
    /// At the reference pol, with the slide; under payment by recoverable sugar, flat.
    MoneyPerCleanMass price_beyond;
    Area contracted_area{};
};

struct Terms {
    std::string name;
    std::string currency;
    SugarContent reference_pol{0.16};
    MoneyPerCleanMass base_price = MoneyPerCleanMass::zero();  ///< at the reference pol
    std::vector<SlideStep> slide;
    std::optional<RecoverablePayment> recoverable;  ///< instead of base price and slide
    TareRule tare_rule = TareRule::measured;
    double fixed_crown_tare = 0.0;  ///< share of clean mass not paid, under TareRule::fixed
    std::vector<DatedSupplement> supplements;
    std::vector<DatedPremium> premiums;
    HaulAllowance haul_allowance;
    HaulAllowanceWithSoil haul_allowance_with_soil;  ///< besides, or in its place
    HaulCost haul_cost;
    MoneyPerMass soil_charge = MoneyPerMass::zero();
    MoneyPerMass tops_charge = MoneyPerMass::zero();
    std::optional<Quota> quota;
    MolassesFormula molasses_formula = MolassesFormula::buchholz_1995;

    /// Whether they pay anything. A season may not know its terms yet.
    [[nodiscard]] bool pay() const { return recoverable || base_price.si() > 0.0; }
};

/// At most this many steps in a slide.
inline constexpr std::size_t kMostSlideSteps = 16;

/// Amounts beyond these are slips of the pen, and would not fit into whole cents.
inline constexpr MoneyPerCleanMass kMostPrice{1e5};  ///< 1e8 per tonne, in whatever currency
inline constexpr Length kMostHaul{5e6};

/// Every contradiction in the terms: amounts missing, rows that overlap or end before they start,
/// shares and prices out of bounds, two ways of paying at once. A problem's field is the path of
/// the row: `slide[2]`. The other functions of worth/ take terms that passed this.
Result<Done> check(const Terms& terms);

}  // namespace beetwright::worth
