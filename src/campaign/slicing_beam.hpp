// Orders put together from their beginnings, many side by side.
//
// Every beginning is carried on by each part that can be got at; kept are those that can still come
// to most, by the prices of slicing_prices.hpp. That is never less than what they will come to, so
// what is left aside says how much better an order may still be that was not looked at.
#pragma once

#include <optional>

#include "base/progress.hpp"
#include "campaign/slicing_prices.hpp"
#include "campaign/slicing_work.hpp"

namespace beetwright::campaign {

struct BeamAnswer {
    std::optional<Sequence> order;  ///< better than the one there was; absent: none was met
    /// Nothing that was left aside comes to more [money]; -infinity: nothing was left aside but
    /// what cannot come to more than what was found.
    double left_aside_money = 0.0;
    bool is_stopped = false;
};

/// `found_money`: the worth of the best order so far, -infinity where there is none. Each part of
/// the order is a step of the work.
BeamAnswer beam_order(const SlicingWork& work, const SlicingPrices& prices, std::size_t width,
                      double found_money, Steps& steps);

}  // namespace beetwright::campaign
