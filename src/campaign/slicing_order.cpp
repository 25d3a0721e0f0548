#include "campaign/slicing_order.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "campaign/slicing_clash.hpp"
#include "campaign/slicing_exact.hpp"
#include "campaign/slicing_problems.hpp"
#include "campaign/slicing_search.hpp"
#include "campaign/slicing_telling.hpp"
#include "campaign/slicing_work.hpp"

namespace beetwright::campaign {
namespace {

/// Why there is no order.
Problem no_order(const SlicingQuestion& question, bool is_known_to_clash) {
    if (const auto clash = clash_of(question)) {
        const PartPlace place = clash->rules.front().place;
        return {ProblemKind::conflict,
                {.file = "", .line = 0, .field = name_of(question, place)},
                "no order keeps all of this: " + text_of(question, *clash),
                clash->rules.size() == 1 ? "let go of it, or let the slicer take other amounts"
                                         : "let go of one of them, or let the slicer take other "
                                           "amounts"};
    }
    return {ProblemKind::conflict,
            {.file = "", .line = 0, .field = "days"},
            is_known_to_clash ? "no order keeps all days"
                              : "no order was found that keeps all days; there may be one",
            "let go of some days, or put parts together so that all orders can be gone through"};
}

}  // namespace

std::string_view words(TakenFrom taken_from) {
    switch (taken_from) {
        case TakenFrom::beginning: return "from its beginning";
        case TakenFrom::end: return "from its end";
        case TakenFrom::either_end: return "from either end";
        case TakenFrom::anywhere: return "anywhere";
    }
    return "";
}

double states_of(const SlicingQuestion& question) {
    return exact_states(SlicingWork(question));
}

Result<SlicingOrder> best_slicing_order(const SlicingQuestion& question, Progress* progress) {
    if (auto problems = problems_of(question); !problems.empty()) {
        return problems;
    }
    const SlicingWork work(question);
    SlicingOrder answer;
    answer.states = exact_states(work);
    answer.is_exact = answer.states <= static_cast<double>(question.effort.most_states);
    std::optional<Sequence> order;
    if (answer.is_exact) {
        Steps steps(progress, answer.states);
        auto exact = exact_order(work, steps);
        if (exact.is_stopped) {
            return not_wanted();
        }
        order = std::move(exact.order);
    } else {
        Steps steps(progress, search_steps(work, question.effort));
        auto found = search_order(work, question.effort, steps);
        if (found.is_stopped) {
            return not_wanted();
        }
        order = std::move(found.order);
        answer.bound = Money(found.bound_money);
    }
    if (!order) {
        return no_order(question, answer.is_exact || std::isinf(answer.bound.si()));
    }
    const SlicingTelling telling(question, work);
    const Worths worths = telling.worths_of(*order);
    answer.parts = telling.parts_of(*order);
    answer.loader_moves = work.moves_of(*order);
    answer.worth = estimate_of(worths);
    if (answer.is_exact) {
        answer.bound = answer.worth.value;
    }
    answer.bound = std::max(answer.bound, answer.worth.value);
    answer.is_best = (answer.bound - answer.worth.value).si() <= 4.0 * work.rounding_money();
    if (telling.of_all([](const PilePart& part) { return part.piled.has_value(); })) {
        answer.first_piled_first = telling.by_rote(
            [&](PartIndex part, double) {
                return static_cast<double>(telling.part(part).piled->time_since_epoch().count());
            },
            worths);
    }
    if (telling.of_all(
            [](const PilePart& part) { return !std::isnan(part.temperature.in_kelvin()); })) {
        answer.warmest_first = telling.by_rote(
            [&](PartIndex part, double) { return -telling.part(part).temperature.in_kelvin(); },
            worths);
    }
    return answer;
}

}  // namespace beetwright::campaign
