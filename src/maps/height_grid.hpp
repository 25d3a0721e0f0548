// A grid of heights as points on earth: what readers of grids have in common.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "ground/track.hpp"
#include "maps/crs.hpp"
#include "maps/map_facts.hpp"

namespace beetwright::maps {

/// A square kilometre in steps of half a metre; more is for a larger machine than this runs on.
inline constexpr std::size_t kMostCells = 5'000'000;

/// What a grid's file holds, in its own units.
struct HeightGrid {
    std::size_t columns = 0;
    std::size_t rows = 0;
    double first_east = 0.0;  ///< middle of the first cell
    double first_north = 0.0;
    double step_east = 0.0;       ///< from one column to the next
    double step_north = 0.0;      ///< from one row to the next; below zero where rows go south
    double metres = 1.0;          ///< of one unit of height
    std::vector<double> heights;  ///< row by row; NaN: not known
};

/// The system that a grid is in by its numbers, where nobody says: degrees, if they can be. The
/// notes say that this was supposed.
Result<Crs> crs_supposed(const HeightGrid& grid, const std::string& file,
                         std::vector<std::string>& notes);

/// Problems: no height at all, heights that no field has, cells that are nowhere.
Result<ground::Heights> heights_of(const HeightGrid& grid, const Crs& crs, const std::string& file,
                                   const MapFacts& facts, std::vector<std::string> notes);

/// Metres of the unit that the facts name, of one where they name none.
Result<double> height_unit_m(const MapFacts& facts, const std::string& file);

}  // namespace beetwright::maps
