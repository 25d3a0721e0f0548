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
};

/// Payment by recoverable sugar: price x (pol - molasses loss - fixed loss) - charge, per clean
/// mass.
struct RecoverablePayment {
    MoneyPerSugar price;
    MoneyPerCleanMass charge = MoneyPerCleanMass::zero();
    SugarContent fixed_loss = SugarContent::zero();
};

/// Added per paid clean mass on the days [from, to]: `at_from`, changing by `per_day` each day
/// after.
struct DatedSupplement {
    Day from{};
    Day to{};
    MoneyPerCleanMass at_from;
    MoneyPerCleanMass per_day = MoneyPerCleanMass::zero();
};

/// Added to the base payment as a share of it, on the days [from, to].
struct DatedPremium {
    Day from{};
    Day to{};
    double share = 0.0;
};

enum class TareRule {
    none,   ///< clean mass is paid in full; tops are charged if `tops_charge` says so
    fixed,  ///< a fixed share of the clean mass is taken off for crowns
};

using MoneyPerCleanMassLength = Quantity<Dim{.length = -1, .clean = -1, .money = 1}>;

/// A stretch of the way to the factory: for each length between `from` and `to`.
struct HaulBand {
    Length from;
    Length to;
    MoneyPerCleanMassLength rate;
};

/// A buyer's allowance for haul, per clean mass: factor x (fixed + sum over bands of rate x length
/// in it).
struct HaulAllowance {
    MoneyPerCleanMass fixed = MoneyPerCleanMass::zero();
    std::vector<HaulBand> bands;
    double factor = 1.0;
};

/// What the haul costs the grower, per mass with soil.
struct HaulCost {
    Quantity<Dim{.with_soil = -1, .money = 1}> fixed{0.0};
    Quantity<Dim{.length = -1, .with_soil = -1, .money = 1}> per_length{0.0};
};

/// Beyond this clean mass in a season, a load is paid the lower price.
struct Quota {
    CleanMass contracted;
    MoneyPerCleanMass price_beyond;  ///< at the reference pol, with the same slide
};

struct Terms {
    std::string name;
    std::string currency;
    SugarContent reference_pol{0.16};
    MoneyPerCleanMass base_price = MoneyPerCleanMass::zero();  ///< at the reference pol
    std::vector<SlideStep> slide;
    std::optional<RecoverablePayment> recoverable;  ///< instead of base price and slide
    TareRule tare_rule = TareRule::none;
    double fixed_crown_tare = 0.0;  ///< share of clean mass not paid, under TareRule::fixed
    std::vector<DatedSupplement> supplements;
    std::vector<DatedPremium> premiums;
    HaulAllowance haul_allowance;
    HaulCost haul_cost;
    MoneyPerMass soil_charge = MoneyPerMass::zero();
    MoneyPerMass tops_charge = MoneyPerMass::zero();
    std::optional<Quota> quota;
    MolassesFormula molasses_formula = MolassesFormula::buchholz_1995;
};

/// At most this many steps in a slide.
inline constexpr std::size_t kMostSlideSteps = 16;

/// Every contradiction in the terms: overlapping steps, ends before starts, shares outside 0 to 1.
Result<Done> check(const Terms& terms);

}  // namespace beetwright::worth
