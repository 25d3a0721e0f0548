// What waiting with a field is worth, in sugar and money, and the chance of losing by it.
//
// Waiting is the difference of two uncertain yields of one field that share nearly all their
// doubt: what the field holds matters little, what it still gains matters. So both are drawn
// together. docs/methods/growth.md.
#pragma once

#include <functional>
#include <limits>

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

/// What is paid for delivered beet [money/m2]: its clean mass [kg/m2], pol and molasses loss
/// [kg/kg].
using Payment = std::function<double(double clean, double pol, double molasses)>;

struct WaitQuestion {
    LeafDisease leaf = {};
    Mishaps mishaps = {};
    Payment paid_now = {};    ///< where one of the two is empty, no money is told
    Payment paid_later = {};  ///< on the later day
    int draws = 4000;         ///< at least 100
};

/// Recoverable sugar as it will be delivered, per area of the field.
struct WaitWorth {
    Estimate<SugarPerArea> now;
    Estimate<SugarPerArea> change_if_all_goes_well;
    Estimate<SugarPerArea> change;  ///< with the mishaps by their chances
    Estimate<MoneyPerArea> money;   ///< of `change`
    double chance_of_loss = 0.0;    ///< that the field holds less than now
    double chance_of_less_money = std::numeric_limits<double>::quiet_NaN();  ///< that it pays less
    SugarPerArea mishaps_cost;                                               ///< expected
};

/// `forecast` holds now and the later day. The same stream gives the same answer.
Result<WaitWorth> worth_of_waiting(const FieldForecast& forecast, const WaitQuestion& question,
                                   const Catalogue& catalogue, RandomStream random);

}  // namespace beetwright::crop
