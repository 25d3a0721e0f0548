// What an order comes to, part by part and member by member, and why it is so.
#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

#include "campaign/slicing_order.hpp"
#include "campaign/slicing_rote.hpp"
#include "campaign/slicing_work.hpp"

namespace beetwright::campaign {

/// Worth by member [money].
using Worths = std::vector<double>;

/// Mean, and between which numbers nine in ten members lie, drawn out to the mean.
Estimate<Money> estimate_of(Worths worths);

class SlicingTelling {
 public:
    SlicingTelling(const SlicingQuestion& question, const SlicingWork& work);

    /// Less what the loader's moves cost.
    [[nodiscard]] Worths worths_of(std::span<const PartIndex> order) const;
    [[nodiscard]] std::vector<SlicedPart> parts_of(const Sequence& order) const;
    /// The order by a rule, beside one that was found and its worths.
    [[nodiscard]] OrderByRote by_rote(const Rank& rank, const Worths& found) const;

    [[nodiscard]] const PilePart& part(PartIndex index) const {
        return question_.piles[places_[index].pile].parts[places_[index].part];
    }
    /// Whether something is so of every part.
    [[nodiscard]] bool of_all(const std::function<bool(const PilePart&)>& is_so) const;

 private:
    [[nodiscard]] Day day_of(double position_kg) const;
    void add_part(PartIndex index, double from_kg, double sign, Worths& sum) const;
    void tell_why(const Sequence& order, std::size_t n, double at_kg, SlicedPart& told) const;

    const SlicingQuestion& question_;
    const SlicingWork& work_;
    std::vector<PartPlace> places_;  ///< of each part
    std::size_t members_ = 0;
};

}  // namespace beetwright::campaign
