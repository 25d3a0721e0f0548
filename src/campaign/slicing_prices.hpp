// A bound that no order exceeds, by prices for the slicer's time.
//
// Every kilogram that the slicer takes is given a price by its place in the campaign. Whoever
// pays it may have several piles sliced at once; each pile then finds its own best times.
// What they come to, with the prices given back, is at least what any real order is worth,
// whatever the prices are; good prices bring it near. Prices that have been found also say
// what any beginning of an order can still come to, which guides the search
// (slicing_beam.hpp). docs/methods/slicing_order.md.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "base/progress.hpp"
#include "campaign/pile_states.hpp"
#include "campaign/slicing_cells.hpp"
#include "campaign/slicing_work.hpp"

namespace beetwright::campaign {

class SlicingPrices {
 public:
    explicit SlicingPrices(const SlicingWork& work);

    /// Sets prices by which nothing in this order gains by moving a little.
    void set_by(std::span<const PartIndex> order);
    /// Betters the prices; `found_money` is the worth of an order that there is, -infinity where
    /// none is known. Each round is a step of the work.
    void better(std::size_t rounds, double found_money, Steps& steps);

    /// The least bound so far [money]; -infinity: no order keeps all days.
    [[nodiscard]] double bound() const { return bound_; }

    // What may still come, by the best prices. After better().

    /// The price of all that is sliced from a position on.
    [[nodiscard]] double price_from(double position_kg) const;
    [[nodiscard]] std::size_t cell_at(double position_kg) const {
        return cells_.cell_at(position_kg);
    }
    /// Whether a pile's parts are priced in an order that the loader can take them in, by the
    /// pile's states; else each for itself.
    [[nodiscard]] bool goes_by_states(std::size_t pile) const {
        return !piles_[pile].in_order.empty();
    }
    [[nodiscard]] const PileStates& states(std::size_t pile) const { return piles_[pile].states; }
    /// At most what the rest of a pile that goes by states brings from this cell on, less prices.
    [[nodiscard]] double rest(std::size_t pile, std::size_t state, std::size_t cell,
                              bool loader_is_here) const;
    /// At most what a part brings from this cell on, less its price.
    [[nodiscard]] double rest_of_part(PartIndex part, std::size_t cell) const {
        return from_on_[cell * work_.parts().size() + part];
    }

 private:
    struct PilePrices {
        PileStates states;
        std::vector<double> begins;    ///< most that is left if the next part begins in this cell
        std::vector<double> in_order;  ///< and in this or a later one
        std::vector<std::size_t> earliest;  ///< cell, of each state
        std::vector<std::size_t> latest;
    };

    void lay_states(std::size_t pile);
    void price_parts();
    void price_pile(std::size_t pile);
    [[nodiscard]] double after(const PilePrices& pile, std::size_t next, std::size_t cell) const;
    void use_pile(std::size_t pile, std::vector<double>& used) const;
    void use(PartIndex part, std::size_t cell, std::vector<double>& used) const;
    /// The bound by the prices as they are; what each cell is used by is added up.
    double priced(std::vector<double>& used);
    void go_back_to_best();

    const SlicingWork& work_;
    SlicingCells cells_;
    std::size_t width_;  ///< of a row of cells
    std::vector<PilePrices> piles_;
    std::vector<double> price_;        ///< of each cell [money]
    std::vector<double> paid_before_;  ///< of all cells before each
    std::vector<double> best_price_;
    std::vector<double> net_;  ///< part by part: worth less price if it begins in the cell
    /// Cell by cell, of each part: the best of this and all later cells.
    std::vector<double> from_on_;
    double bound_ = 0.0;
};

}  // namespace beetwright::campaign
