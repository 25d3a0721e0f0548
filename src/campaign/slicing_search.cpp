#include "campaign/slicing_search.hpp"

#include <algorithm>
#include <limits>

#include "campaign/slicing_beam.hpp"
#include "campaign/slicing_improve.hpp"
#include "campaign/slicing_prices.hpp"
#include "campaign/slicing_rote.hpp"

namespace beetwright::campaign {
namespace {

constexpr double kNever = -std::numeric_limits<double>::infinity();
/// Looks at what is left that all beginnings together may take, so that many parts that can be
/// taken anywhere do not take minutes.
constexpr double kMostLooks = 3e8;
constexpr std::size_t kNarrow = 100;

/// Beginnings that can be carried on side by side.
std::size_t width_of(const SlicingWork& work, std::size_t wanted) {
    double open = 0.0;
    double looks = 0.0;
    for (const WorkPile& pile : work.piles()) {
        const bool anywhere = pile.taken_from == TakenFrom::anywhere;
        open += anywhere ? 0.5 * pile.parts : 1.5;
        looks += anywhere ? 0.5 * pile.parts : 1.0;
    }
    const double each = static_cast<double>(work.parts().size()) * open * (looks + 8.0);
    const auto most = static_cast<std::size_t>(std::max(1.0, kMostLooks / each));
    return std::max<std::size_t>(1, std::min(wanted, most));
}

class Search {
 public:
    Search(const SlicingWork& work, const Effort& effort)
        : work_(work), effort_(effort), prices_(work), width_(width_of(work, effort.beam_width)) {}

    SearchAnswer answer(Steps& steps) {
        // What loses most by waiting to the last day goes first.
        const std::size_t last = work_.day_at(work_.total_kg() - work_.slack_kg());
        auto first = order_by_rote(work_, [&](PartIndex part, double from_kg) {
            return work_.money_per_kg(part, last) - work_.money_per_kg(part, work_.day_at(from_kg));
        });
        prices_.set_by(first);
        if (work_.keeps_all_days(first)) {
            take(std::move(first));
        }
        const std::size_t rounds = std::max<std::size_t>(2, effort_.bound_rounds);
        prices_.better(rounds / 3, worth_money_, steps);
        look(std::min(width_, kNarrow), steps);
        if (!is_settled()) {
            prices_.better(rounds - rounds / 3, worth_money_, steps);
            look(width_, steps);
        }
        return {.order = order_,
                .bound_money = std::min(bound_money_, prices_.bound()),
                .is_stopped = steps.are_stopped()};
    }

 private:
    void take(Sequence order) {
        order = improved(work_, std::move(order));
        const double worth = work_.worth_of(order);
        if (worth > worth_money_) {
            worth_money_ = worth;
            order_ = std::move(order);
        }
    }

    void look(std::size_t width, Steps& steps) {
        if (prices_.bound() == kNever || steps.are_stopped()) {
            return;
        }
        auto beam = beam_order(work_, prices_, width, worth_money_, steps);
        if (beam.is_stopped) {
            return;
        }
        if (beam.order) {
            take(std::move(*beam.order));
        }
        // All that was not looked at comes to no more than what was left aside or found.
        const double found = worth_money_ > kNever ? worth_money_ + work_.rounding_money() : kNever;
        bound_money_ = std::min(bound_money_, std::max(beam.left_aside_money, found));
    }

    [[nodiscard]] bool is_settled() const {
        const double bound = std::min(bound_money_, prices_.bound());
        return bound <= worth_money_ + 2.0 * work_.rounding_money();
    }

    const SlicingWork& work_;
    const Effort& effort_;
    SlicingPrices prices_;
    std::size_t width_;
    std::optional<Sequence> order_;
    double worth_money_ = kNever;
    double bound_money_ = std::numeric_limits<double>::infinity();
};

}  // namespace

double search_steps(const SlicingWork& work, const Effort& effort) {
    return static_cast<double>(effort.bound_rounds + 2 * work.parts().size());
}

SearchAnswer search_order(const SlicingWork& work, const Effort& effort, Steps& steps) {
    return Search(work, effort).answer(steps);
}

}  // namespace beetwright::campaign
