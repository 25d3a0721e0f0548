// What waiting with a field is worth, in sugar and money, and the chance of losing by it.
//
// Waiting is the difference of two uncertain yields of one field that share nearly all their
// doubt: what the field holds matters little, what it still gains matters. So both are drawn
// together. docs/methods/growth.md.
#pragma once

#include "base/catalogue.hpp"
#include "base/estimate.hpp"
#include "base/quantity.hpp"
#include "base/random.hpp"
#include "base/result.hpp"
#include "crop/growth.hpp"
#include "crop/leaf.hpp"

namespace beetwright::crop {

/// What may go wrong until the later day: chances, from the weather that is expected.
struct Mishaps {
    double too_wet = 0.0;       ///< that the field can then no longer be lifted as planned
    double leaf_frost = 0.0;    ///< that leaf freezes
    double frozen_roots = 0.0;  ///< that frost reaches the roots; at most leaf_frost
};

struct WaitQuestion {
    LeafDisease leaf;
    Mishaps mishaps;
    MoneyPerSugar price;  ///< of recoverable sugar; unknown: no money is told
    int draws = 4000;     ///< at least 100
};

/// Recoverable sugar as it will be delivered, per area of the field.
struct WaitWorth {
    Estimate<SugarPerArea> now;
    Estimate<SugarPerArea> change_if_all_goes_well;
    Estimate<SugarPerArea> change;  ///< with the mishaps by their chances
    Estimate<MoneyPerArea> money;   ///< of `change`
    double chance_of_loss = 0.0;    ///< that the field is worth less than now
    SugarPerArea mishaps_cost;      ///< expected
};

/// `forecast` holds now and the later day. The same stream gives the same answer.
Result<WaitWorth> worth_of_waiting(const FieldForecast& forecast, const WaitQuestion& question,
                                   const Catalogue& catalogue, RandomStream random);

}  // namespace beetwright::crop
