#include "campaign/slicing_exact.hpp"

#include <algorithm>
#include <limits>

#include "campaign/pile_states.hpp"

namespace beetwright::campaign {
namespace {

constexpr double kNever = -std::numeric_limits<double>::infinity();
constexpr std::size_t kStatesATime = 16384;

bool moves_cost(const SlicingWork& work) {
    return work.move_money() > 0.0 && work.piles().size() > 1;
}

/// From the last state back to the first: the most that what is left can still be worth.
///
/// A state is a digit for each pile, and its number grows with each part taken. Where the loader's
/// moves cost, a value is kept for each pile that it may stand at: to go on there is free, any
/// other pile costs a move, so all of them follow from the best of each pile.
class ExactSearch {
 public:
    explicit ExactSearch(const SlicingWork& work)
        : work_(work), places_(moves_cost(work) ? work.piles().size() : 1) {
        std::size_t stride = 1;
        for (const WorkPile& pile : work.piles()) {
            auto& digit = digits_.emplace_back(
                Digit{PileStates(pile.taken_from, pile.parts), pile.first, stride, {}});
            stride *= digit.states.count();
            digit.gone_kg.assign(digit.states.count(), 0.0);
            for (std::size_t s = 0; s < digit.states.count(); ++s) {
                digit.states.for_each_taking(s, [&](std::size_t part, std::size_t next) {
                    digit.gone_kg[next] =
                        digit.gone_kg[s] + work.parts()[pile.first + part].mass_kg;
                });
            }
        }
        worth_.assign(stride * places_, kNever);
    }

    ExactAnswer answer(Steps& steps) {
        const std::size_t states = worth_.size() / places_;
        std::vector<std::size_t> at(digits_.size());
        for (std::size_t p = 0; p < at.size(); ++p) {
            at[p] = digits_[p].states.empty();
        }
        std::fill_n(worth_.end() - static_cast<std::ptrdiff_t>(places_), places_, 0.0);
        std::vector<double> best(digits_.size());
        for (std::size_t state = states - 1; state-- > 0;) {
            for (std::size_t p = 0; at[p]-- == 0; ++p) {
                at[p] = digits_[p].states.empty();
            }
            enter(state, at, best);
            if (state % kStatesATime == 0 && !steps.done(kStatesATime)) {
                return {.order = {}, .is_stopped = true};
            }
        }
        return {.order = walk(), .is_stopped = false};
    }

 private:
    struct Digit {
        PileStates states;
        PartIndex first;
        std::size_t stride;
        std::vector<double> gone_kg;  ///< in each state
    };

    double position_kg(const std::vector<std::size_t>& at) const {
        double sum = 0.0;
        for (std::size_t p = 0; p < at.size(); ++p) {
            sum += digits_[p].gone_kg[at[p]];
        }
        return sum;
    }

    /// Calls take(part, state's digit after it, worth from here on) for what may be taken of
    /// a pile.
    template <class Take>
    void for_each_taking(std::size_t state, std::size_t pile, std::size_t at, double from_kg,
                         std::size_t day, const Take& take) const {
        const Digit& digit = digits_[pile];
        const std::size_t place = places_ > 1 ? pile : 0;
        digit.states.for_each_taking(at, [&](std::size_t part, std::size_t next) {
            const auto index = static_cast<PartIndex>(digit.first + part);
            if (work_.keeps_its_days(index, from_kg)) {
                const std::size_t then = state + (next - at) * digit.stride;
                take(index, next,
                     work_.worth(index, from_kg, day) + worth_[then * places_ + place]);
            }
        });
    }

    void enter(std::size_t state, const std::vector<std::size_t>& at, std::vector<double>& best) {
        const double from_kg = position_kg(at);
        const std::size_t day = work_.day_at(from_kg);
        double most = kNever;
        for (std::size_t p = 0; p < at.size(); ++p) {
            best[p] = kNever;
            for_each_taking(
                state, p, at[p], from_kg, day,
                [&](PartIndex, std::size_t, double worth) { best[p] = std::max(best[p], worth); });
            most = std::max(most, best[p]);
        }
        if (places_ == 1) {
            worth_[state] = most;
            return;
        }
        for (std::size_t p = 0; p < at.size(); ++p) {
            worth_[state * places_ + p] = std::max(best[p], most - work_.move_money());
        }
    }

    /// From the first state on, each time what leads to the most; of equals the one that needs
    /// no move.
    std::optional<Sequence> walk() const {
        Sequence order;
        std::vector<std::size_t> at(digits_.size(), 0);
        std::size_t state = 0;
        std::size_t loader = work_.loader_at();
        while (order.size() < work_.parts().size()) {
            const double from_kg = position_kg(at);
            const std::size_t day = work_.day_at(from_kg);
            double most = kNever;
            PartIndex taken = 0;
            std::size_t taken_from = 0;
            std::size_t then = 0;
            for (std::size_t k = 0; k < at.size(); ++k) {
                // The loader's own pile first.
                const std::size_t p = loader < at.size() ? (loader + k) % at.size() : k;
                const bool is_free = loader == at.size() || loader == p;
                const double move = is_free || places_ == 1 ? 0.0 : work_.move_money();
                for_each_taking(state, p, at[p], from_kg, day,
                                [&](PartIndex part, std::size_t next, double worth) {
                                    if (worth - move > most) {
                                        most = worth - move;
                                        taken = part;
                                        taken_from = p;
                                        then = next;
                                    }
                                });
            }
            if (most == kNever) {
                return std::nullopt;
            }
            order.push_back(taken);
            state += (then - at[taken_from]) * digits_[taken_from].stride;
            at[taken_from] = then;
            loader = taken_from;
        }
        return order;
    }

    const SlicingWork& work_;
    std::size_t places_;  ///< of the loader that make a difference
    std::vector<Digit> digits_;
    std::vector<double> worth_;  ///< state by state, place by place
};

}  // namespace

double exact_states(const SlicingWork& work) {
    double states = moves_cost(work) ? static_cast<double>(work.piles().size()) : 1.0;
    for (const WorkPile& pile : work.piles()) {
        states *= PileStates::count_of(pile.taken_from, pile.parts);
    }
    return states;
}

ExactAnswer exact_order(const SlicingWork& work, Steps& steps) {
    return ExactSearch(work).answer(steps);
}

}  // namespace beetwright::campaign
