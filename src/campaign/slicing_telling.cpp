#include "campaign/slicing_telling.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "campaign/piles_left.hpp"

namespace beetwright::campaign {
namespace {

Worths less(Worths a, const Worths& b) {
    for (std::size_t m = 0; m < a.size(); ++m) {
        a[m] -= b[m];
    }
    return a;
}

}  // namespace

Estimate<Money> estimate_of(Worths worths) {
    const double mean =
        std::accumulate(worths.begin(), worths.end(), 0.0) / static_cast<double>(worths.size());
    std::ranges::sort(worths);
    const auto at = [&](double share) {
        return worths[static_cast<std::size_t>(
            std::lround(share * static_cast<double>(worths.size() - 1)))];
    };
    const double tail = 0.5 * (1.0 - kIntervalLevel);
    return {Money(mean), Money(std::min(mean, at(tail))), Money(std::max(mean, at(1.0 - tail)))};
}

SlicingTelling::SlicingTelling(const SlicingQuestion& question, const SlicingWork& work)
    : question_(question), work_(work) {
    for (std::size_t p = 0; p < question.piles.size(); ++p) {
        for (std::size_t k = 0; k < question.piles[p].parts.size(); ++k) {
            places_.push_back({p, k});
        }
    }
    members_ = part(0).worth_money.size();
}

Worths SlicingTelling::worths_of(std::span<const PartIndex> order) const {
    Worths sum(members_, -work_.move_money() * static_cast<double>(work_.moves_of(order)));
    double at_kg = 0.0;
    for (const PartIndex index : order) {
        add_part(index, at_kg, 1.0, sum);
        at_kg += work_.parts()[index].mass_kg;
    }
    return sum;
}

std::vector<SlicedPart> SlicingTelling::parts_of(const Sequence& order) const {
    std::vector<SlicedPart> parts;
    double at_kg = 0.0;
    for (std::size_t n = 0; n < order.size(); ++n) {
        const PartIndex index = order[n];
        const double end_kg = at_kg + work_.parts()[index].mass_kg;
        Worths worth(members_, 0.0);
        add_part(index, at_kg, 1.0, worth);
        SlicedPart& told = parts.emplace_back();
        told.place = places_[index];
        told.first_day = day_of(at_kg + work_.slack_kg());
        told.last_day = day_of(end_kg - work_.slack_kg());
        told.worth = estimate_of(std::move(worth));
        tell_why(order, n, at_kg, told);
        at_kg = end_kg;
    }
    return parts;
}

OrderByRote SlicingTelling::by_rote(const Rank& rank, const Worths& found) const {
    const Sequence order = order_by_rote(work_, rank);
    const Worths worths = worths_of(order);
    OrderByRote told;
    double at_kg = 0.0;
    for (const PartIndex index : order) {
        told.order.push_back(places_[index]);
        if (!work_.keeps_its_days(index, at_kg)) {
            told.off_their_days.push_back(places_[index]);
        }
        at_kg += work_.parts()[index].mass_kg;
    }
    told.worth = estimate_of(worths);
    told.less_than_found = estimate_of(less(found, worths));
    return told;
}

bool SlicingTelling::of_all(const std::function<bool(const PilePart&)>& is_so) const {
    return std::ranges::all_of(places_, [&](PartPlace place) {
        return is_so(question_.piles[place.pile].parts[place.part]);
    });
}

Day SlicingTelling::day_of(double position_kg) const {
    return question_.first_day +
           std::chrono::days(work_.day_at(std::clamp(position_kg, 0.0, work_.total_kg())));
}

/// Adds a part's worth, by the share of it that each day slices.
void SlicingTelling::add_part(PartIndex index, double from_kg, double sign, Worths& sum) const {
    const PilePart& part = this->part(index);
    const double mass_kg = part.mass.si();
    const auto before_kg = work_.sliced_before_kg();
    const double to_kg = from_kg + mass_kg;
    for (std::size_t d = work_.day_at(from_kg); d + 1 < before_kg.size() && before_kg[d] < to_kg;
         ++d) {
        const double sliced_kg =
            std::min(before_kg[d + 1], to_kg) - std::max(before_kg[d], from_kg);
        const double share = sign * std::max(0.0, sliced_kg) / mass_kg;
        for (std::size_t m = 0; m < members_; ++m) {
            sum[m] += share * part.worth_money[m][d];
        }
    }
}

void SlicingTelling::tell_why(const Sequence& order, std::size_t n, double at_kg,
                              SlicedPart& told) const {
    if (n + 1 == order.size()) {
        told.held_by = HeldBy::end;
        return;
    }
    Sequence changed = order;
    std::swap(changed[n], changed[n + 1]);
    if (!can_be_taken(work_, changed)) {
        told.held_by = HeldBy::pile;
        return;
    }
    const PartIndex here = order[n];
    const PartIndex next = order[n + 1];
    const double here_kg = work_.parts()[here].mass_kg;
    const double next_kg = work_.parts()[next].mass_kg;
    if (!work_.keeps_its_days(next, at_kg) || !work_.keeps_its_days(here, at_kg + next_kg)) {
        told.held_by = HeldBy::days;
        return;
    }
    const double more_moves =
        static_cast<double>(work_.moves_of(changed)) - static_cast<double>(work_.moves_of(order));
    Worths lost(members_, more_moves * work_.move_money());
    add_part(here, at_kg, 1.0, lost);
    add_part(next, at_kg + here_kg, 1.0, lost);
    add_part(next, at_kg, -1.0, lost);
    add_part(here, at_kg + next_kg, -1.0, lost);
    told.lost_if_later = estimate_of(std::move(lost));
}

}  // namespace beetwright::campaign
