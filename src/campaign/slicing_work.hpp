// A question of the slicing order as the search sees it: parts in one row of numbers, and time as
// the mass that the slicer has taken.
//
// The slicer never waits for beet, so a part's place in time is the mass sliced before it, and days
// on which nothing is sliced vanish. What the parts that are gone weigh says when the next one
// begins, whatever their order was: that is why what is left of the piles is all that a search has
// to know.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "campaign/slicing_order.hpp"

namespace beetwright::campaign {

/// Parts by their place among all, one after the other; the search speaks of no names.
using PartIndex = std::uint32_t;
using Sequence = std::vector<PartIndex>;

struct WorkPile {
    TakenFrom taken_from = TakenFrom::beginning;
    PartIndex first = 0;  ///< its parts stand in a row
    PartIndex parts = 0;
};

struct WorkPart {
    std::uint32_t pile = 0;
    double mass_kg = 0.0;
    double not_before_kg = 0.0;  ///< sliced of all piles before it may begin
    double by_kg = 0.0;          ///< and when it has to be gone
};

class SlicingWork {
 public:
    /// Of a question that is in order (slicing_problems.hpp). Parts heed their days.
    explicit SlicingWork(const SlicingQuestion& question);

    [[nodiscard]] const std::vector<WorkPile>& piles() const { return piles_; }
    [[nodiscard]] const std::vector<WorkPart>& parts() const { return parts_; }
    [[nodiscard]] double total_kg() const { return total_kg_; }
    [[nodiscard]] double move_money() const { return move_money_; }
    /// The pile where the loader stands at first; piles().size(): at none.
    [[nodiscard]] std::size_t loader_at() const { return loader_at_; }
    /// Positions closer than this are one.
    [[nodiscard]] double slack_kg() const { return slack_kg_; }
    /// What rounding may amount to in a sum of worths [money].
    [[nodiscard]] double rounding_money() const { return rounding_money_; }
    /// The mass sliced before each day, and after the last.
    [[nodiscard]] std::span<const double> sliced_before_kg() const { return before_kg_; }

    /// The day that slices the beet at this position.
    [[nodiscard]] std::size_t day_at(double position_kg) const {
        auto day = guide_[static_cast<std::size_t>(position_kg * guide_per_kg_)];
        while (day + 1 < days_ && before_kg_[day + 1] <= position_kg) {
            ++day;
        }
        return day;
    }
    /// Worth [money, mean over the members] of a part that begins at a position on that day.
    [[nodiscard]] double worth(PartIndex part, double from_kg, std::size_t day) const {
        const double to_kg = from_kg + parts_[part].mass_kg;
        const Piece* const row = &pieces_[part * days_];
        std::size_t last = day;
        while (last + 1 < days_ && before_kg_[last + 1] < to_kg) {
            ++last;
        }
        const auto until = [&](double at, std::size_t d) {
            return row[d].before_money + row[d].money_per_kg * (at - before_kg_[d]);
        };
        return until(to_kg, last) - until(from_kg, day);
    }
    [[nodiscard]] double worth(PartIndex part, double from_kg) const {
        return worth(part, from_kg, day_at(from_kg));
    }
    /// Worth of a kilogram of the part on a day [money/kg].
    [[nodiscard]] double money_per_kg(PartIndex part, std::size_t day) const {
        return pieces_[part * days_ + day].money_per_kg;
    }
    [[nodiscard]] bool keeps_its_days(PartIndex part, double from_kg) const {
        const WorkPart& p = parts_[part];
        return from_kg >= p.not_before_kg - slack_kg_ && from_kg + p.mass_kg <= p.by_kg + slack_kg_;
    }

    // Of a whole order.

    [[nodiscard]] std::size_t moves_of(std::span<const PartIndex> order) const;
    [[nodiscard]] double worth_of(std::span<const PartIndex> order) const;
    [[nodiscard]] bool keeps_all_days(std::span<const PartIndex> order) const;

 private:
    struct Piece {
        double before_money = 0.0;  ///< of a kilogram sliced at each position before the day
        double money_per_kg = 0.0;
    };

    std::vector<WorkPile> piles_;
    std::vector<WorkPart> parts_;
    double total_kg_ = 0.0;
    double move_money_ = 0.0;
    std::size_t loader_at_ = 0;
    double slack_kg_ = 0.0;
    double rounding_money_ = 0.0;
    std::size_t days_ = 0;
    std::vector<double> before_kg_;
    std::vector<std::uint32_t> guide_;  ///< a day at or before each of equal steps
    double guide_per_kg_ = 0.0;
    std::vector<Piece> pieces_;  ///< part by part, day by day
};

}  // namespace beetwright::campaign
