#include "campaign/slicing_prices.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace beetwright::campaign {
namespace {

constexpr double kNever = -std::numeric_limits<double>::infinity();
/// States times cells of a pile up to which its own order is heeded; from one end always.
constexpr double kMostInOrder = 1e6;

bool goes_from_one_end(TakenFrom taken_from) {
    return taken_from == TakenFrom::beginning || taken_from == TakenFrom::end;
}

}  // namespace

SlicingPrices::SlicingPrices(const SlicingWork& work)
    : work_(work),
      cells_(work),
      width_(cells_.width()),
      price_(cells_.count(), 0.0),
      paid_before_(width_ + 1, 0.0),
      best_price_(price_),
      net_(work.parts().size() * width_, kNever),
      bound_(std::numeric_limits<double>::infinity()) {
    for (std::size_t p = 0; p < work.piles().size(); ++p) {
        lay_states(p);
    }
}

void SlicingPrices::lay_states(std::size_t p) {
    const WorkPile& pile = work_.piles()[p];
    const double states = PileStates::count_of(pile.taken_from, pile.parts);
    const bool in_order = pile.parts > 0 && (goes_from_one_end(pile.taken_from) ||
                                             states * static_cast<double>(width_) <= kMostInOrder);
    auto& prices = piles_.emplace_back(PilePrices{
        PileStates(in_order ? pile.taken_from : TakenFrom::beginning, pile.parts), {}, {}, {}, {}});
    if (!in_order) {
        return;
    }
    const std::size_t count = prices.states.count();
    prices.begins.assign(count * width_, kNever);
    prices.in_order.assign(count * width_, kNever);
    std::vector<double> gone_kg(count, 0.0);
    double pile_kg = 0.0;
    for (PartIndex part = pile.first; part < pile.first + pile.parts; ++part) {
        pile_kg += work_.parts()[part].mass_kg;
    }
    for (std::size_t s = 0; s < count; ++s) {
        prices.states.for_each_taking(s, [&](std::size_t part, std::size_t next) {
            gone_kg[next] = gone_kg[s] + work_.parts()[pile.first + part].mass_kg;
        });
        const double latest_kg = work_.total_kg() - (pile_kg - gone_kg[s]);
        prices.earliest.push_back(cells_.cell_at(gone_kg[s]));
        prices.latest.push_back(
            static_cast<std::size_t>((latest_kg + work_.slack_kg()) / cells_.cell_kg()));
    }
}

double SlicingPrices::price_from(double position_kg) const {
    const double at = std::min(position_kg / cells_.cell_kg(),
                               static_cast<double>(cells_.count()) - 1.0 + cells_.last_cell());
    const auto k = std::min(static_cast<std::size_t>(at), cells_.count() - 1);
    const double before = paid_before_[k] + price_[k] * (at - static_cast<double>(k));
    return paid_before_[cells_.count() - 1] + price_[cells_.count() - 1] * cells_.last_cell() -
           before;
}

void SlicingPrices::set_by(std::span<const PartIndex> order) {
    const auto day_of = [&](double at_kg) {
        return work_.day_at(std::min(at_kg, work_.total_kg() - work_.slack_kg()));
    };
    double base = 0.0;
    double begin_kg = 0.0;
    std::size_t k = 0;
    for (const PartIndex part : order) {
        const double end_kg = begin_kg + work_.parts()[part].mass_kg;
        const double at_begin = work_.money_per_kg(part, day_of(begin_kg));
        for (; k < cells_.count() && (static_cast<double>(k) + 0.5) * cells_.cell_kg() < end_kg;
             ++k) {
            const double middle_kg = (static_cast<double>(k) + 0.5) * cells_.cell_kg();
            price_[k] =
                cells_.cell_kg() * (base + work_.money_per_kg(part, day_of(middle_kg)) - at_begin);
        }
        base += work_.money_per_kg(part, day_of(end_kg)) - at_begin;
        begin_kg = end_kg;
    }
    std::fill(price_.begin() + static_cast<std::ptrdiff_t>(k), price_.end(),
              cells_.cell_kg() * base);
    best_price_ = price_;
}

void SlicingPrices::price_parts() {
    paid_before_[0] = 0.0;
    for (std::size_t k = 0; k < width_; ++k) {
        paid_before_[k + 1] = paid_before_[k] + (k < cells_.count() ? price_[k] : 0.0);
    }
    for (PartIndex part = 0; part < work_.parts().size(); ++part) {
        cells_.enter_net(part, paid_before_, std::span(net_).subspan(part * width_, width_));
    }
}

/// What follows a part that ends with its pile in state `next`, and from this cell on.
double SlicingPrices::after(const PilePrices& pile, std::size_t next, std::size_t cell) const {
    if (next == pile.states.empty()) {
        return 0.0;
    }
    const double later = pile.in_order[next * width_ + cell] - work_.move_money();
    double at_once = pile.begins[next * width_ + cell];
    if (!cells_.begin_at_cells_alone()) {
        at_once = std::max(at_once, pile.begins[next * width_ + cell + 1]);
    }
    return std::max(later, at_once);
}

void SlicingPrices::price_pile(std::size_t p) {
    PilePrices& pile = piles_[p];
    const PartIndex first = work_.piles()[p].first;
    for (std::size_t s = pile.states.empty(); s-- > 0;) {
        double* const begins = &pile.begins[s * width_];
        double* const in_order = &pile.in_order[s * width_];
        const std::size_t from = pile.earliest[s];
        const std::size_t to = std::min(pile.latest[s], cells_.count() - 1);
        for (std::size_t k = from; k <= to; ++k) {
            begins[k] = kNever;
        }
        pile.states.for_each_taking(s, [&](std::size_t part, std::size_t next) {
            const auto index = static_cast<PartIndex>(first + part);
            const PartCells& cells = cells_.part(index);
            if (!cells.can_be) {
                return;
            }
            const std::size_t last = std::min(to, cells.latest);
            for (std::size_t k = std::max(from, cells.earliest); k <= last; ++k) {
                begins[k] = std::max(begins[k],
                                     net_[index * width_ + k] + after(pile, next, k + cells.whole));
            }
        });
        double most = kNever;
        for (std::size_t k = to + 1; k-- > from;) {
            most = std::max(most, begins[k]);
            in_order[k] = most;
        }
        std::fill(in_order, in_order + from, most);
    }
}

double SlicingPrices::rest(std::size_t p, std::size_t state, std::size_t cell,
                           bool loader_is_here) const {
    const PilePrices& pile = piles_[p];
    if (state == pile.states.empty()) {
        return 0.0;
    }
    if (loader_is_here) {
        return after(pile, state, cell);
    }
    return pile.in_order[state * width_ + cell] - work_.move_money();
}

void SlicingPrices::use(PartIndex part, std::size_t cell, std::vector<double>& used) const {
    const double begin = cells_.best_beginning(part, cell, paid_before_);
    const double end = begin + work_.parts()[part].mass_kg / cells_.cell_kg();
    auto k = static_cast<std::size_t>(begin);
    for (double at = begin; at < end && k < cells_.count(); ++k) {
        const double next = std::min(end, static_cast<double>(k) + 1.0);
        used[k] += next - at;
        at = next;
    }
}

void SlicingPrices::use_pile(std::size_t p, std::vector<double>& used) const {
    const PilePrices& pile = piles_[p];
    const PartIndex first = work_.piles()[p].first;
    std::size_t state = 0;
    std::size_t cell = 0;
    bool at_once = false;
    while (state != pile.states.empty()) {
        const double* const begins = &pile.begins[state * width_];
        const double later = pile.in_order[state * width_ + cell];
        const std::size_t beside = cells_.begin_at_cells_alone() ? cell : cell + 1;
        if (at_once && std::max(begins[cell], begins[beside]) >= later - work_.move_money()) {
            cell = begins[cell] >= begins[beside] ? cell : beside;
        } else {
            while (begins[cell] != later) {
                ++cell;
            }
        }
        PartIndex taken = 0;
        std::size_t then = state;
        double most = kNever;
        pile.states.for_each_taking(state, [&](std::size_t part, std::size_t next) {
            const auto index = static_cast<PartIndex>(first + part);
            const PartCells& cells = cells_.part(index);
            if (!cells.can_be || cell < cells.earliest || cell > cells.latest) {
                return;
            }
            const double worth =
                net_[index * width_ + cell] + after(pile, next, cell + cells.whole);
            if (worth > most) {
                most = worth;
                taken = index;
                then = next;
            }
        });
        use(taken, cell, used);
        cell += cells_.part(taken).whole;
        state = then;
        at_once = true;
    }
}

double SlicingPrices::priced(std::vector<double>& used) {
    price_parts();
    std::ranges::fill(used, 0.0);
    // The first pile that the loader goes to costs no move.
    double sum = price_from(0.0) + work_.move_money();
    for (std::size_t p = 0; p < piles_.size(); ++p) {
        const WorkPile& pile = work_.piles()[p];
        if (pile.parts == 0) {
            continue;
        }
        if (goes_by_states(p)) {
            price_pile(p);
            sum += rest(p, 0, 0, false);
            if (sum == kNever) {
                return kNever;
            }
            use_pile(p, used);
            continue;
        }
        sum -= work_.move_money();
        for (PartIndex part = pile.first; part < pile.first + pile.parts; ++part) {
            const auto row = net_.begin() + static_cast<std::ptrdiff_t>(part * width_);
            const auto best =
                std::max_element(row, row + static_cast<std::ptrdiff_t>(cells_.count()));
            if (*best == kNever) {
                return kNever;
            }
            sum += *best;
            use(part, static_cast<std::size_t>(best - row), used);
        }
    }
    return sum + work_.rounding_money();
}

void SlicingPrices::better(std::size_t rounds, double found_money, Steps& steps) {
    // Down the slope of the bound, by Polyak's step towards what has been found; a part of the last
    // step is kept, so that prices do not swing to and fro.
    constexpr double kKept = 0.6;
    constexpr double kUnfound = 0.02;
    constexpr std::size_t kPatience = 8;
    std::vector<double> used(cells_.count());
    std::vector<double> step(cells_.count(), 0.0);
    double boldness = 1.0;
    std::size_t without_gain = 0;
    price_ = best_price_;
    for (std::size_t round = 0; round < rounds && bound_ != kNever; ++round) {
        const double sum = priced(used);
        if (sum < bound_) {
            bound_ = sum;
            best_price_ = price_;
            without_gain = 0;
        } else if (++without_gain >= kPatience) {
            boldness *= 0.6;
            without_gain = 0;
            price_ = best_price_;
            std::ranges::fill(step, 0.0);
            priced(used);
        }
        const double aim =
            found_money > kNever ? found_money : bound_ - kUnfound * std::abs(bound_);
        if (bound_ - aim <= 2.0 * work_.rounding_money() || !steps.done(1.0)) {
            break;
        }
        double square = 0.0;
        for (std::size_t k = 0; k < cells_.count(); ++k) {
            const double there_is = k + 1 == cells_.count() ? cells_.last_cell() : 1.0;
            step[k] = kKept * step[k] + (there_is - used[k]);
            square += step[k] * step[k];
        }
        if (square < 1e-18) {
            break;
        }
        const double length = boldness * (std::max(sum, bound_) - aim) / square;
        for (std::size_t k = 0; k < cells_.count(); ++k) {
            price_[k] -= length * step[k];
        }
    }
    go_back_to_best();
}

void SlicingPrices::go_back_to_best() {
    price_ = best_price_;
    std::vector<double> used(cells_.count());
    priced(used);
    const std::size_t parts = work_.parts().size();
    from_on_.assign(parts * width_, kNever);
    for (std::size_t k = width_ - 1; k-- > 0;) {
        for (PartIndex part = 0; part < parts; ++part) {
            from_on_[k * parts + part] =
                std::max(net_[part * width_ + k], from_on_[(k + 1) * parts + part]);
        }
    }
}

}  // namespace beetwright::campaign
