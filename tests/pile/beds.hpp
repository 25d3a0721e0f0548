// Beds that the tests of the pile's physics share: simple shapes with properties set by hand.
#pragma once

#include <cmath>

#include "pile/bed.hpp"
#include "pile/humid.hpp"

namespace beetwright::pile {

inline PileConstants central_pile() {
    const Catalogue catalogue;
    return pile_constants([&](ConstantId id) { return catalogue.value(id); });
}

/// A bed of one lot on a grid that is all pile.
inline Bed bed_of(const Grid& grid, const Lot& lot = {},
                  const PileConstants& constants = central_pile()) {
    const std::array lots{lot};
    const auto of_cell = lots_of_cells(grid, lots);
    return make_bed(grid, lots, of_cell, constants, 0.0);
}

/// A facet of every cell at an end of a rectangle. A pile never looks down: the lower end is given
/// the side that looks sideways.
inline void add_facets(Grid& grid, num::Direction direction, bool high_end) {
    const auto d = direction == num::Direction::up ? 2U : 0U;
    const std::size_t count = grid.box.count(direction);
    for (std::size_t i = 0; i < grid.box.across; ++i) {
        for (std::size_t k = 0; k < grid.box.up; ++k) {
            const std::size_t at = direction == num::Direction::up ? k : i;
            if (at == (high_end ? count - 1 : 0)) {
                grid.facets.push_back(
                    {grid.box.index(i, 0, k),
                     direction == num::Direction::up ? grid.cell[0] : grid.cell[2],
                     0.5 * grid.cell[d],
                     high_end ? grid.cut_side(direction, true)
                              : grid.cut_side(num::Direction::across, false)});
            }
        }
    }
}

}  // namespace beetwright::pile
