// The campaign cut into cells of equal mass, and when each part can begin and what it is
// worth then.
//
// A part that begins somewhere in a cell counts as beginning where in it that would pay best, so
// that nothing that can happen is left out. Where cells can be cut so that every part is a whole
// number of them, parts begin at cells alone, and nothing is lost to the cutting.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "campaign/slicing_work.hpp"

namespace beetwright::campaign {

/// How a part lies on the cells.
struct PartCells {
    std::size_t whole = 0;     ///< cells that it covers
    double more = 0.0;         ///< and a share of one
    std::size_t earliest = 0;  ///< cell in which it may begin
    std::size_t latest = 0;
    bool can_be = true;  ///< false: it may at no time
};

class SlicingCells {
 public:
    explicit SlicingCells(const SlicingWork& work);

    [[nodiscard]] std::size_t count() const { return count_; }
    /// Of a row of numbers by cell: two more than cells, so that a part's end has a place.
    [[nodiscard]] std::size_t width() const { return count_ + 2; }
    [[nodiscard]] double cell_kg() const { return cell_kg_; }
    /// How much of the last cell there is, from 0 to 1.
    [[nodiscard]] double last_cell() const { return last_cell_; }
    [[nodiscard]] bool begin_at_cells_alone() const { return fits_all_; }
    [[nodiscard]] const PartCells& part(PartIndex part) const { return parts_[part]; }

    /// The cell of a position; but for rounding, and then the one before it.
    [[nodiscard]] std::size_t cell_at(double position_kg) const;

    // `paid_before`: the price of all cells before each, one number more than the width.

    /// Worth less price [money] of a part by the cell in which it begins, where in it that
    /// pays best.
    void enter_net(PartIndex part, std::span<const double> paid_before,
                   std::span<double> net_money) const;
    /// Where in a cell that is [cells].
    [[nodiscard]] double best_beginning(PartIndex part, std::size_t cell,
                                        std::span<const double> paid_before) const;

 private:
    /// Worth less price of a part that begins at a cell's beginning, and inside it where its end
    /// comes to one.
    struct Nets {
        double at_cell = 0.0;
        double inside = 0.0;
    };

    void cut();
    void lay(PartIndex part);
    void lay_worth(PartIndex part, double last_kg);
    [[nodiscard]] Nets nets(PartIndex part, std::size_t cell, const double* paid_before) const;

    const SlicingWork& work_;
    double cell_kg_ = 0.0;
    bool fits_all_ = false;
    std::size_t count_ = 0;
    double last_cell_ = 1.0;
    std::vector<PartCells> parts_;
    // Part by part, cell by cell. The last two where parts do not begin at cells alone.
    std::vector<double> worth_at_;      ///< if it begins with the cell
    std::vector<double> worth_inside_;  ///< if it begins where its end comes to a cell's beginning
    std::vector<double> bulge_;         ///< how far worth rises over straight lines between those
};

}  // namespace beetwright::campaign
