// A bed whose properties a test sets by hand, stepped by the pile's own step: what is known in
// closed form is held against the very code that a pile runs.
#pragma once

#include <cmath>

#include "pile/beds.hpp"
#include "pile/step.hpp"

namespace beetwright::pile {

/// Properties alike everywhere. SI.
struct Stuff {
    double capacity = 1.0;         ///< [J/m3/K]
    double frozen_capacity = 1.0;  ///< [J/m3/K]
    double latent = 0.0;           ///< [J/m3]
    double freezing_C = -1.0;
    double conductivity = 1.0;
    double frozen_conductivity = 1.0;
};

/// Nothing flows unless `airflow` is updated.
struct StillBed {
    Grid grid;
    PileConstants constants;
    Bed bed;
    State state;
    Airflow airflow;
    Step step;
    Outside outside;
    Balance balance;
    StepRules rules{.kelvin = 1e-9, .most = 200, .slopes = num::Slopes::van_leer};

    StillBed(Grid of, const Stuff& stuff, double celsius, const Lot& lot = {},
             const PileConstants& with = dry_constants())
        : grid(std::move(of)),
          constants(with),
          bed(bed_of(grid, lot, constants)),
          state(grid.box),
          airflow(grid.box),
          step(grid.box) {
        for (std::size_t c = grid.box.begin(); c < grid.box.end(); ++c) {
            const double volume = grid.volume[c];
            bed.warm[c] = stuff.capacity * volume;
            bed.frozen[c] = stuff.frozen_capacity * volume;
            bed.latent[c] = stuff.latent * volume;
            bed.freezing[c] = stuff.freezing_C;
            bed.still[c] = stuff.conductivity;
            bed.ice_adds[c] = stuff.frozen_conductivity - stuff.conductivity;
            bed.radiation[c] = 0.0;
            bed.surface[c] = 0.0;  // no evaporation
            state.celsius[c] = celsius;
            state.heat[c] = enthalpy(celsius, bed.content(c));
        }
        outside.sides.resize(grid.sides.size());
        for (auto& side : outside.sides) {
            side = {.heat_transfer = 1e12, .felt_C = 0.0};
        }
        outside.wind_Pa.assign(grid.sides.size(), 0.0);
        outside.cover_air.assign(grid.sides.size(), 0.0);
        outside.density = air_density(0.0, 0.0);
        const std::array lots{lot};
        airflow.lay(bed, grid);
        step.lay(bed, grid, lots, constants);
        step.follow(airflow);
    }

    /// Beets that neither heal nor rot nor evaporate.
    static PileConstants dry_constants() {
        auto c = central_pile();
        c.lump.basal_at_5C = 0.0;
        c.lump.frozen_C = -200.0;
        c.oxygen_half = 0.0;
        c.heat_full_C = 1e6;
        c.heat_end_C = 2e6;
        c.skin_transfer = 1e-30;
        return c;
    }

    void set_celsius(std::size_t c, double celsius) {
        state.celsius[c] = celsius;
        state.heat[c] = enthalpy(celsius, bed.content(c));
    }
    /// False where it does not stand.
    bool run(double seconds, int steps) {
        for (int n = 0; n < steps; ++n) {
            if (!step.advance(state, outside, seconds / steps, rules, balance).stands) {
                return false;
            }
        }
        return true;
    }
    [[nodiscard]] double mean() const {
        double sum = 0.0;
        double volume = 0.0;
        for (std::size_t c = grid.box.begin(); c < grid.box.end(); ++c) {
            sum += grid.volume[c] * state.celsius[c];
            volume += grid.volume[c];
        }
        return sum / volume;
    }
};

/// Half a slab, a cylinder or a sphere of radius 1 in n shells, with a wall outside. By power of
/// the radius: 0, 1, 2. The cylinder and the sphere are rows of shells, not embedded in cubes.
inline Grid shells(std::size_t n, int power) {
    const double h = 1.0 / static_cast<double>(n);
    std::vector<double> volumes;
    std::vector<double> openings;
    std::vector<double> distances;
    for (std::size_t i = 0; i < n; ++i) {
        const double inner = h * static_cast<double>(i);
        const double outer = inner + h;
        volumes.push_back((std::pow(outer, power + 1) - std::pow(inner, power + 1)) / (power + 1));
        if (i + 1 < n) {
            openings.push_back(std::pow(outer, power));
            distances.push_back(h);
        }
    }
    Grid grid = make_row(volumes, openings, distances);
    grid.facets.push_back({grid.box.index(n - 1, 0, 0), 1.0, 0.5 * h,
                           grid.cut_side(num::Direction::across, true), false});
    return grid;
}

}  // namespace beetwright::pile
