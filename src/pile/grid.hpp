// A pile and the ground below it as a box of cells.
//
// Sections and whole piles are one code: a section is one cell of 1 m along, with no ends. Cells
// that a sloping face cuts keep the right volume and openings (clipped_box.hpp); what they meet the
// weather with is their facets. Layers of ground lie below, each 1.5 times as thick as the one
// above. Everything that a solver needs of geometry is an array here, so that a rod, a cylinder or
// a sphere is a grid too, by its volumes and openings: the closed forms are checked on those.
// docs/methods/pile_grid.md.
#pragma once

#include <array>
#include <vector>

#include "num/box.hpp"
#include "pile/shape.hpp"

namespace beetwright::pile {

struct GridSpec {
    Length cell_across{0.25};
    Length cell_up{0.25};
    /// Nothing: a section across the middle.
    Length cell_along{};
    std::size_t ground_layers = 5;
    Length top_ground_layer{0.25};
};

/// A piece of a cell's surface that looks at the weather.
struct Facet {
    std::size_t cell = 0;
    double area = 0.0;   ///< [m2]
    double depth = 0.0;  ///< of the cell's centre below it [m]
    std::size_t side = 0;
    bool is_open = true;  ///< to air; walls are not
};

struct Grid {
    num::Box box;
    std::size_t ground_layers = 0;
    std::array<double, 3> cell{};      ///< across, along, up above the ground [m]
    std::vector<double> layer_bottom;  ///< of each layer of cells, from the lowest up [m]
    std::vector<double> layer_height;  ///< [m]
    num::Field volume;                 ///< [m3]; nought: outside
    std::array<num::Field, num::kDirections> centre;  ///< across, along, up [m]
    /// Between a cell and the next, by num::Direction [m2].
    std::array<num::Field, num::kDirections> opening;
    std::array<num::Field, num::kDirections> distance;  ///< between their centres [m]
    std::vector<ShapeSide> sides;                       ///< that facets look at the weather with
    std::vector<Facet> facets;  ///< of the whole pile, and of the ground beside it

    [[nodiscard]] bool is_section() const { return box.along == 1; }
    [[nodiscard]] bool is_ground(std::size_t index) const {
        return (index - box.begin()) % box.up < ground_layers;
    }
    /// The side that a cut looks with, by direction and end.
    [[nodiscard]] std::size_t cut_side(num::Direction direction, bool high_end) const;
    [[nodiscard]] std::size_t ground_side() const { return sides.size() - 1; }
};

/// Most cells a grid may have: beyond that it is a slip of the pen.
inline constexpr std::size_t kMostCells = 4'000'000;

/// Problems: those of the shape; cells that are not smaller than the pile; too many of them.
Result<Grid> make_grid(const Shape& shape, const GridSpec& spec);

/// A grid of one row of cells with given volumes, openings (one fewer) and distances between
/// centres, without facets: for what is known in closed form.
Grid make_row(const std::vector<double>& volumes, const std::vector<double>& openings,
              const std::vector<double>& distances);
/// A rectangle of cells without facets or ground, 1 m along.
Grid make_rectangle(std::size_t across, std::size_t up, double cell_across, double cell_up);

}  // namespace beetwright::pile
