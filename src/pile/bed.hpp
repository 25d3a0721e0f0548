// The pile as it stands at an hour: which cells hold beet, what of it, how they conduct and resist,
// and what looks at the weather. Made anew when beet is put there or taken away; between that
// nothing of it changes.
#pragma once

#include <span>
#include <vector>

#include "pile/freezing.hpp"
#include "pile/grid.hpp"
#include "pile/lot.hpp"

namespace beetwright::pile {

inline constexpr std::size_t kNoLot = static_cast<std::size_t>(-1);

struct Bed {
    num::Box box;
    std::vector<std::size_t> lot;  ///< of each cell; kNoLot: ground, or nothing
    num::Field beet;               ///< clean [kg]; nought: none
    // HeatContent, as arrays; cells that hold nothing have a capacity of 1 J/K.
    num::Field warm, frozen, latent, freezing;
    // Conductivity: still + (frozen - still) ice + radiation (T/100 K)^3 [W/m/K].
    num::Field still, ice_adds, radiation;
    num::Field inverse_permeability;  ///< [1/m2]
    num::Field inertia;               ///< [1/m]
    num::Field volume;                ///< of beet and what is between it [m3]
    num::Field pores;                 ///< [m3]
    num::Field surface;               ///< of roots [m2]
    num::Field breathes;              ///< against the rest of its lot
    /// Opening / distance to the next cell [m]: for heat between all that is there, for air
    /// between beet.
    std::array<num::Field, num::kDirections> reach, air_reach;
    std::array<num::Field, num::kDirections> air_opening;  ///< [m2]
    std::vector<Facet> facets;                             ///< of what is there

    [[nodiscard]] bool is_there(std::size_t cell) const { return warm[cell] > 1.0; }
    [[nodiscard]] bool has_beet(std::size_t cell) const { return beet[cell] > 0.0; }
    [[nodiscard]] HeatContent content(std::size_t cell) const {
        return {warm[cell], frozen[cell], latent[cell], freezing[cell]};
    }
};

/// For each cell the last lot whose part it lies in; kNoLot where there is none.
std::vector<std::size_t> lots_of_cells(const Grid& grid, std::span<const Lot> lots);

/// The bed at an hour.
Bed make_bed(const Grid& grid, std::span<const Lot> lots, std::span<const std::size_t> lot_of_cell,
             const PileConstants& constants, double hour);

}  // namespace beetwright::pile
