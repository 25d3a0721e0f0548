// In which order parts of piles go to the slicer.
//
// A part is what is taken in one go: some metres of a pile along its length. What it is paid falls,
// or rises, with the day on which it is sliced, by weather that is not known yet; the slicer takes
// so much a day, one part after another. Found is the order that is worth most over the weather's
// members: exactly where the piles can be left in few enough ways, else well, with a bound that no
// order exceeds. docs/methods/slicing_order.md.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/estimate.hpp"
#include "base/progress.hpp"
#include "base/quantity.hpp"
#include "base/result.hpp"
#include "base/time.hpp"

namespace beetwright::campaign {

/// Which parts of a pile the loader can get at.
enum class TakenFrom : std::uint8_t {
    beginning,   ///< the first that is left
    end,         ///< the last that is left
    either_end,  ///< one of these two
    anywhere,    ///< any: hot spots first
};
/// "from its beginning", "from its end", "from either end", "anywhere".
std::string_view words(TakenFrom taken_from);

/// Some metres of a pile, taken in one go.
struct PilePart {
    std::string name;
    CleanMass mass;  ///< over nought
    /// What is paid [money] if all of it is sliced on one day: a list over the weather's
    /// members, of each a list over the days of the horizon. All parts have the same members in
    /// the same order.
    std::vector<std::vector<double>> worth_money;
    std::optional<Day> not_before{};  ///< nothing of it is sliced before this day
    std::optional<Day> by{};          ///< all of it is sliced by the end of this day
    /// For comparison alone: when it was piled, and what was last read in it; absent: not known.
    std::optional<Day> piled{};
    Temperature temperature{};
};

struct PileToSlice {
    std::string name;
    TakenFrom taken_from = TakenFrom::beginning;
    std::vector<PilePart> parts;  ///< from its beginning on
};

/// How long is searched.
struct Effort {
    /// Searched exactly up to so many states: ways to leave the piles, times places of the loader
    /// where its moves cost. Eight bytes each.
    std::size_t most_states = 4'000'000;
    std::size_t bound_rounds = 300;   ///< of the prices that the bound is reckoned by
    std::size_t beam_width = 20'000;  ///< beginnings that are carried on side by side
};

struct SlicingQuestion {
    Day first_day{};                      ///< of the horizon
    std::vector<CleanMass> slicer_takes;  ///< on each day of the horizon; nought: it stands
    std::vector<PileToSlice> piles;
    Money loader_move = Money::zero();       ///< cost of each move of the loader to another pile
    std::optional<std::size_t> loader_at{};  ///< pile; absent: where it begins, it is
    Effort effort{};
};

/// A part by its places: which pile, and which of the pile's parts.
struct PartPlace {
    std::size_t pile = 0;
    std::size_t part = 0;
    friend bool operator==(const PartPlace&, const PartPlace&) = default;
};

/// Why a part does not change places with the one after it.
enum class HeldBy : std::uint8_t {
    worth,  ///< it could, at a loss
    pile,   ///< the next one cannot be got at before it
    days,   ///< the days of one of the two would not be kept
    end,    ///< none comes after it
};

struct SlicedPart {
    PartPlace place;
    Day first_day{};  ///< on which something of it is sliced
    Day last_day{};
    Estimate<Money> worth;
    HeldBy held_by = HeldBy::worth;
    /// If it were sliced one place later, and the next one before it; unknown where that cannot be.
    Estimate<Money> lost_if_later;
};

/// An order by a plain rule, which heeds what can be got at and not_before, but looks ahead
/// to nothing.
struct OrderByRote {
    std::vector<PartPlace> order;
    Estimate<Money> worth;
    Estimate<Money> less_than_found;
    std::vector<PartPlace> off_their_days;  ///< parts whose days it does not keep
};

struct SlicingOrder {
    std::vector<SlicedPart> parts;
    std::size_t loader_moves = 0;
    Estimate<Money> worth;  ///< over the members, less what the loader's moves cost
    Money bound;            ///< no order has a higher mean worth
    /// Proven: nothing is worth more, but for rounding, 4e-9 of what all parts come to at most.
    bool is_best = false;
    double states = 0.0;                           ///< ways to leave the piles, reckoned beforehand
    bool is_exact = false;                         ///< all of them were gone through
    std::optional<OrderByRote> first_piled_first;  ///< where it is known of all parts
    std::optional<OrderByRote> warmest_first;
};

/// The number of states that an exact search would go through; found without searching. Of a
/// question that is in order.
double states_of(const SlicingQuestion& question);

/// The order that is worth most. Problems: numbers that cannot be, by pile and part; a horizon too
/// short to slice all; days that cannot all be kept, with the smallest set of rules that clash
/// (slicing_clash.hpp); no order found that keeps all days though none is known to clash; that it
/// was stopped.
Result<SlicingOrder> best_slicing_order(const SlicingQuestion& question,
                                        Progress* progress = nullptr);

}  // namespace beetwright::campaign
