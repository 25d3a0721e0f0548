#include "pile/bed.hpp"

#include <algorithm>

namespace beetwright::pile {
namespace {

using num::Direction;

constexpr double kStefanBoltzmann = 5.670374419e-8;  ///< [W/m2/K4]

class BedMaker {
 public:
    BedMaker(const Grid& grid, std::span<const Lot> lots, std::span<const std::size_t> lot_of_cell,
             const PileConstants& constants, double hour)
        : grid_(grid), lots_(lots), c_(constants) {
        const auto& box = grid.box;
        bed_.box = box;
        bed_.lot.assign(box.room(), kNoLot);
        for (auto* field : {&bed_.beet, &bed_.latent, &bed_.still, &bed_.ice_adds, &bed_.radiation,
                            &bed_.inverse_permeability, &bed_.inertia, &bed_.volume, &bed_.pores,
                            &bed_.surface, &bed_.breathes}) {
            *field = box.field();
        }
        bed_.warm = bed_.frozen = box.field(1.0);
        bed_.freezing = box.field(-1.0);
        for (auto* fields : {&bed_.reach, &bed_.air_reach, &bed_.air_opening}) {
            for (std::size_t d = 0; d < box.directions(); ++d) {
                (*fields)[d] = box.field();
            }
        }
        for (std::size_t cell = box.begin(); cell < box.end(); ++cell) {
            const std::size_t l = lot_of_cell[cell];
            if (grid.is_ground(cell)) {
                fill_ground(cell);
            } else if (grid.volume[cell] > 0.0 && l != kNoLot && lots[l].piled_h <= hour &&
                       hour < lots[l].removed_h) {
                fill_beet(cell, l);
            }
        }
    }

    Bed make() {
        for (std::size_t d = 0; d < grid_.box.directions(); ++d) {
            connect(num::kEveryDirection[d]);
        }
        for (const auto& facet : grid_.facets) {
            if (bed_.is_there(facet.cell)) {
                bed_.facets.push_back(facet);
            }
        }
        return std::move(bed_);
    }

 private:
    void fill_ground(std::size_t cell) {
        bed_.warm[cell] = bed_.frozen[cell] = c_.ground_capacity * grid_.volume[cell];
        bed_.still[cell] = c_.ground_conductivity;
    }

    void fill_beet(std::size_t cell, std::size_t l) {
        constexpr double kSoilCapacity = 1500.0;  // moist soil that clings to beet [J/kg/K]
        const auto& load = lots_[l].beet;
        const double kg = c_.bulk_density * grid_.volume[cell];
        const double extra = load.soil * kSoilCapacity + load.leaf * c_.heat_capacity;
        bed_.lot[cell] = l;
        bed_.beet[cell] = kg;
        bed_.warm[cell] = kg * (c_.heat_capacity + extra);
        bed_.frozen[cell] = kg * (c_.frozen_heat_capacity + extra);
        bed_.latent[cell] = kg * c_.freezing_water * kMeltingHeat;
        bed_.freezing[cell] = c_.lump.freezing_C;
        bed_.still[cell] = c_.still_conductivity;
        bed_.ice_adds[cell] = c_.frozen_conductivity - c_.still_conductivity;
        bed_.radiation[cell] = c_.pore_radiation * 4.0 * kStefanBoltzmann * 1e6 * c_.root_diameter;
        bed_.volume[cell] = grid_.volume[cell];
        const double pores = porosity(load, c_);
        const auto resistance = ergun(c_.root_diameter, pores);
        bed_.inverse_permeability[cell] = resistance.inverse_permeability;
        bed_.inertia[cell] = resistance.inertia;
        bed_.pores[cell] = pores * grid_.volume[cell];
        bed_.surface[cell] =
            6.0 * c_.bulk_density / c_.root_density / c_.root_diameter * grid_.volume[cell];
        const double width = grid_.cell[0] * static_cast<double>(grid_.box.across);
        const double height =
            grid_.cell[2] * static_cast<double>(grid_.box.up - grid_.ground_layers);
        // A row of cells has no section.
        bed_.breathes[cell] = width > 0.0 ? lots_[l].uneven.at(grid_.centre[0][cell] / width,
                                                               grid_.centre[2][cell] / height)
                                          : 1.0;
    }

    void connect(Direction direction) {
        const auto d = static_cast<std::size_t>(direction);
        const std::size_t stride = grid_.box.stride(direction);
        for (std::size_t cell = grid_.box.begin(); cell < grid_.box.end(); ++cell) {
            const std::size_t next = cell + stride;
            const double opening = grid_.opening[d][cell];
            if (opening <= 0.0) {
                continue;
            }
            const bool here = bed_.is_there(cell);
            const bool there = bed_.is_there(next);
            if (here && there) {
                bed_.reach[d][cell] = opening / grid_.distance[d][cell];
                if (bed_.has_beet(cell) && bed_.has_beet(next)) {
                    bed_.air_reach[d][cell] = bed_.reach[d][cell];
                    bed_.air_opening[d][cell] = opening;
                }
            } else if (here || there) {
                // Beet that ends within the shape, or ground that is not covered yet.
                const std::size_t which = here ? cell : next;
                const bool is_ground = grid_.is_ground(which);
                bed_.facets.push_back(
                    {which, opening, 0.5 * grid_.distance[d][cell],
                     is_ground ? grid_.ground_side() : grid_.cut_side(direction, here)});
            }
        }
    }

    const Grid& grid_;
    std::span<const Lot> lots_;
    const PileConstants& c_;
    Bed bed_;
};

}  // namespace

std::vector<std::size_t> lots_of_cells(const Grid& grid, std::span<const Lot> lots) {
    std::vector<std::size_t> of(grid.box.room(), kNoLot);
    for (std::size_t cell = grid.box.begin(); cell < grid.box.end(); ++cell) {
        if (grid.is_ground(cell) || grid.volume[cell] == 0.0) {
            continue;
        }
        for (std::size_t l = 0; l < lots.size(); ++l) {
            bool within = true;
            for (std::size_t a = 0; a < 3; ++a) {
                const double at = grid.centre[a][cell];
                within = within && at >= lots[l].low[a] && at <= lots[l].high[a];
            }
            of[cell] = within ? l : of[cell];
        }
    }
    return of;
}

Bed make_bed(const Grid& grid, std::span<const Lot> lots, std::span<const std::size_t> lot_of_cell,
             const PileConstants& constants, double hour) {
    return BedMaker(grid, lots, lot_of_cell, constants, hour).make();
}

}  // namespace beetwright::pile
