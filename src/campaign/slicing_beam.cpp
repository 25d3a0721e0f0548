#include "campaign/slicing_beam.hpp"

#include <algorithm>
#include <limits>
#include <tuple>
#include <unordered_set>
#include <utility>

#include "campaign/piles_left.hpp"

namespace beetwright::campaign {
namespace {

constexpr double kNever = -std::numeric_limits<double>::infinity();

struct Beginning {
    PilesLeft left;
    double position_kg = 0.0;
    double worth_money = 0.0;
    std::size_t loader_at = 0;
    std::size_t trail = 0;  ///< its last part
};

/// A beginning and one part more.
struct Longer {
    double at_most_money = 0.0;
    double worth_money = 0.0;
    std::uint32_t beginning = 0;
    PartIndex part = 0;
};

struct Trail {
    std::size_t before = 0;
    PartIndex part = 0;
};

struct Kept {
    std::vector<std::uint64_t> gone;
    std::size_t loader_at;
    friend bool operator==(const Kept&, const Kept&) = default;
};
struct KeptHash {
    std::size_t operator()(const Kept& kept) const {
        std::uint64_t hash = kept.loader_at;
        for (const std::uint64_t word : kept.gone) {
            hash = (hash ^ word) * 0x9E3779B97F4A7C15ULL;
            hash ^= hash >> 29U;
        }
        return static_cast<std::size_t>(hash);
    }
};

class Beam {
 public:
    Beam(const SlicingWork& work, const SlicingPrices& prices, std::size_t width,
         double found_money)
        : work_(work), prices_(prices), width_(width), least_money_(found_money) {
        if (found_money > kNever) {
            least_money_ += work.rounding_money();
        }
    }

    BeamAnswer answer(Steps& steps) {
        std::vector<Beginning> beginnings{
            {PilesLeft(work_), 0.0, 0.0, work_.loader_at(), trails_.size()}};
        trails_.push_back({});
        BeamAnswer answer;
        for (std::size_t taken = 0; taken < work_.parts().size(); ++taken) {
            carry_on(beginnings);
            beginnings = the_best(beginnings);
            if (!steps.done(1.0)) {
                answer.is_stopped = true;
                return answer;
            }
        }
        answer.left_aside_money = left_aside_money_;
        if (!beginnings.empty()) {
            answer.order = order_of(beginnings.front());
        }
        return answer;
    }

 private:
    /// At most what is left comes to, once a part has been taken as well.
    double rest_after(const Beginning& beginning, const std::vector<std::size_t>& states,
                      PartIndex taken) const {
        const WorkPart& part = work_.parts()[taken];
        const double from_kg = beginning.position_kg + part.mass_kg;
        const std::size_t cell = prices_.cell_at(from_kg);
        double sum = prices_.price_from(from_kg);
        for (std::size_t p = 0; p < states.size(); ++p) {
            const bool is_here = p == part.pile;
            if (prices_.goes_by_states(p)) {
                const std::size_t state =
                    is_here ? beginning.left.state_after(work_, taken) : states[p];
                sum += prices_.rest(p, state, cell, is_here);
                continue;
            }
            const WorkPile& pile = work_.piles()[p];
            bool is_any_left = false;
            for (PartIndex k = pile.first; k < pile.first + pile.parts; ++k) {
                if (k != taken && !beginning.left.is_gone(k)) {
                    sum += prices_.rest_of_part(k, cell);
                    is_any_left = true;
                }
            }
            sum -= is_any_left && !is_here ? work_.move_money() : 0.0;
        }
        return sum;
    }

    void carry_on(const std::vector<Beginning>& beginnings) {
        longer_.clear();
        std::vector<std::size_t> states(work_.piles().size());
        for (std::uint32_t b = 0; b < beginnings.size(); ++b) {
            const Beginning& beginning = beginnings[b];
            for (std::size_t p = 0; p < states.size(); ++p) {
                states[p] = prices_.goes_by_states(p) ? beginning.left.state(work_, p) : 0;
            }
            const std::size_t day = work_.day_at(beginning.position_kg);
            beginning.left.for_each_open(work_, [&](PartIndex part) {
                if (!work_.keeps_its_days(part, beginning.position_kg)) {
                    return;
                }
                const std::size_t at = beginning.loader_at;
                const bool moves = at != work_.parts()[part].pile && at != states.size();
                const double worth = beginning.worth_money +
                                     work_.worth(part, beginning.position_kg, day) -
                                     (moves ? work_.move_money() : 0.0);
                const double at_most =
                    worth + rest_after(beginning, states, part) + work_.rounding_money();
                if (at_most > least_money_) {
                    longer_.push_back({at_most, worth, b, part});
                }
            });
        }
        std::ranges::sort(longer_, [](const Longer& a, const Longer& b) {
            return std::tuple(-a.at_most_money, a.beginning, a.part) <
                   std::tuple(-b.at_most_money, b.beginning, b.part);
        });
    }

    /// Of those that leave the same behind only the one worth most; it comes first.
    std::vector<Beginning> the_best(const std::vector<Beginning>& beginnings) {
        std::vector<Beginning> best;
        std::unordered_set<Kept, KeptHash> kept;
        for (const Longer& longer : longer_) {
            if (best.size() == width_) {
                left_aside_money_ = std::max(left_aside_money_, longer.at_most_money);
                break;
            }
            Beginning next = beginnings[longer.beginning];
            next.left.take(work_, longer.part);
            next.loader_at = work_.parts()[longer.part].pile;
            if (!kept.insert({next.left.gone(), work_.move_money() > 0.0 ? next.loader_at : 0})
                     .second) {
                continue;
            }
            next.position_kg += work_.parts()[longer.part].mass_kg;
            next.worth_money = longer.worth_money;
            trails_.push_back({next.trail, longer.part});
            next.trail = trails_.size() - 1;
            best.push_back(std::move(next));
        }
        return best;
    }

    Sequence order_of(const Beginning& whole) const {
        Sequence order(work_.parts().size());
        std::size_t at = whole.trail;
        for (std::size_t k = order.size(); k-- > 0;) {
            order[k] = trails_[at].part;
            at = trails_[at].before;
        }
        return order;
    }

    const SlicingWork& work_;
    const SlicingPrices& prices_;
    std::size_t width_;
    double least_money_;
    double left_aside_money_ = kNever;
    std::vector<Longer> longer_;
    std::vector<Trail> trails_;
};

}  // namespace

BeamAnswer beam_order(const SlicingWork& work, const SlicingPrices& prices, std::size_t width,
                      double found_money, Steps& steps) {
    return Beam(work, prices, width, found_money).answer(steps);
}

}  // namespace beetwright::campaign
