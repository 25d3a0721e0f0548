// Invented piles for the tests of the slicing order, and every order that there is of them.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <limits>
#include <numeric>
#include <string>
#include <vector>

#include "base/random.hpp"
#include "campaign/slicing_check.hpp"
#include "campaign/slicing_order.hpp"

namespace beetwright::campaign {

inline constexpr Day kFirstDay{std::chrono::days(25'000)};

/// What to invent.
struct Invented {
    std::vector<std::size_t> parts_of_piles{1, 1, 1};
    std::vector<TakenFrom> taken_from{TakenFrom::beginning};  ///< in turn
    std::size_t members = 3;
    std::size_t days = 40;
    double loader_move_money = 0.0;
    bool equal_masses = false;
};

/// Parts that lose by the day, slowly at first or steadily, some of which lose a third on a day
/// of thaw of their own and some of which are paid more later on; the slicer stands on one day
/// in eight.
inline SlicingQuestion invented(std::uint64_t seed, const Invented& kind) {
    RandomStream random(seed, "slicing question");
    SlicingQuestion question;
    question.first_day = kFirstDay;
    question.loader_move = Money(kind.loader_move_money);
    double total_t = 0.0;
    for (std::size_t p = 0; p < kind.parts_of_piles.size(); ++p) {
        auto& pile = question.piles.emplace_back();
        pile.name = "pile " + std::to_string(p + 1);
        pile.taken_from = kind.taken_from[p % kind.taken_from.size()];
        for (std::size_t k = 0; k < kind.parts_of_piles[p]; ++k) {
            auto& part = pile.parts.emplace_back();
            part.name = "part " + std::to_string(k + 1);
            const double mass_t = kind.equal_masses ? 500.0 : 200.0 + 800.0 * random.uniform();
            total_t += mass_t;
            part.mass = tonnes<CleanMass>(mass_t);
            const double loss_a_day = 0.001 + 0.009 * random.uniform();
            const double power = 1.0 + random.uniform();
            const auto thaw = random.chance(0.3)
                                  ? random.below(static_cast<std::uint32_t>(kind.days))
                                  : 1'000'000U;
            const double rise_a_day = random.chance(0.2) ? 0.004 : 0.0;
            part.piled = kFirstDay - std::chrono::days(random.below(60));
            part.temperature = Temperature::celsius(1.0 + 1500.0 * loss_a_day * random.uniform());
            for (std::size_t m = 0; m < kind.members; ++m) {
                const double warmth = 0.6 + 0.8 * random.uniform();
                auto& worth = part.worth_money.emplace_back();
                for (std::size_t d = 0; d < kind.days; ++d) {
                    const double days = static_cast<double>(d);
                    const double kept =
                        1.0 + rise_a_day * days -
                        loss_a_day * warmth * days *
                            std::pow((days + 1.0) / static_cast<double>(kind.days), power - 1.0);
                    worth.push_back(40.0 * mass_t * kept * (d >= thaw ? 0.67 : 1.0));
                }
            }
        }
    }
    // Nine tenths of the horizon's working days are enough.
    const double takes_t = total_t / (0.9 * 0.875 * static_cast<double>(kind.days));
    for (std::size_t d = 0; d < kind.days; ++d) {
        question.slicer_takes.push_back(tonnes<CleanMass>(d % 8 == 5 ? 0.0 : takes_t));
    }
    return question;
}

/// An order in which the loader can take all parts, drawn blindly.
inline std::vector<PartPlace> any_order(const SlicingQuestion& question, RandomStream& random) {
    std::vector<std::vector<std::size_t>> left;
    for (const PileToSlice& pile : question.piles) {
        left.emplace_back(pile.parts.size());
        std::iota(left.back().begin(), left.back().end(), std::size_t{0});
    }
    std::vector<PartPlace> order;
    while (std::ranges::any_of(left, [](const auto& pile) { return !pile.empty(); })) {
        const auto p = random.below(static_cast<std::uint32_t>(left.size()));
        if (left[p].empty()) {
            continue;
        }
        const std::size_t last = left[p].size() - 1;
        std::size_t k = 0;
        switch (question.piles[p].taken_from) {
            case TakenFrom::beginning: break;
            case TakenFrom::end: k = last; break;
            case TakenFrom::either_end: k = random.chance(0.5) ? 0 : last; break;
            case TakenFrom::anywhere: k = random.below(static_cast<std::uint32_t>(last + 1)); break;
        }
        order.push_back({p, left[p][k]});
        left[p].erase(left[p].begin() + static_cast<std::ptrdiff_t>(k));
    }
    return order;
}

/// Gives about half of the parts days that an order drawn blindly keeps, with up to `room` days
/// to spare.
inline void give_days(SlicingQuestion& question, std::uint64_t seed, std::uint32_t room) {
    RandomStream random(seed, "days of parts");
    const auto order = any_order(question, random);
    const auto checked = check_slicing_order(question, order);
    for (std::size_t n = 0; n < order.size(); ++n) {
        PilePart& part = question.piles[order[n].pile].parts[order[n].part];
        if (random.chance(0.3)) {
            part.not_before =
                checked->parts[n].first_day - std::chrono::days(random.below(room + 1));
        }
        if (random.chance(0.3)) {
            part.by = checked->parts[n].last_day + std::chrono::days(random.below(room + 1));
        }
    }
}

/// Calls with every order of all parts, whatever the rules.
inline void for_each_order(const SlicingQuestion& question,
                           const std::function<void(const std::vector<PartPlace>&)>& call) {
    std::vector<std::size_t> permutation;
    std::vector<PartPlace> places;
    for (std::size_t p = 0; p < question.piles.size(); ++p) {
        for (std::size_t k = 0; k < question.piles[p].parts.size(); ++k) {
            permutation.push_back(places.size());
            places.push_back({p, k});
        }
    }
    std::vector<PartPlace> order(places.size());
    do {
        for (std::size_t n = 0; n < order.size(); ++n) {
            order[n] = places[permutation[n]];
        }
        call(order);
    } while (std::next_permutation(permutation.begin(), permutation.end()));
}

/// The most that any order is worth which keeps all rules, by the checker; -infinity: none does.
inline double best_of_all_orders(const SlicingQuestion& question) {
    double best = -std::numeric_limits<double>::infinity();
    for_each_order(question, [&](const std::vector<PartPlace>& order) {
        const auto checked = check_slicing_order(question, order);
        if (checked.ok()) {
            best = std::max(best, checked->mean_money);
        }
    });
    return best;
}

inline std::vector<PartPlace> order_of(const SlicingOrder& answer) {
    std::vector<PartPlace> order;
    for (const SlicedPart& part : answer.parts) {
        order.push_back(part.place);
    }
    return order;
}

}  // namespace beetwright::campaign
