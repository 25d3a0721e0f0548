// The loops of a step over all cells, in wide registers: what passes between cells and what does
// not, each named by what it fills. docs/methods/pile_heat.md.
#pragma once

#include <cstddef>

#include "pile/humid.hpp"

namespace beetwright::pile::loops {

/// Vapour that passes where heat does: [kg/s/Pa] of [W/K].
inline constexpr double kVapourPerHeat = kWaterToAir / (kAirCapacity * kAirPressure_Pa);

/// Of each cell, with its ice and with radiation across the pores [W/m/K].
void conductivities(std::size_t begin, std::size_t end, const double* celsius,
                    const double* freezing, const double* still, const double* ice_adds,
                    const double* radiation, double* conductivity);

/// Between a cell and the next: their halves in series [W/K].
void conductances(std::size_t begin, std::size_t end, std::size_t stride, const double* reach,
                  const double* k, double* conductance);

/// Of enthalpies. Where nothing is frozen in a row of cells, what ice would do is not reckoned.
struct HeatFields {
    const double *warm, *frozen, *latent, *freezing;
};
void temperatures(std::size_t begin, std::size_t end, const HeatFields& f, const double* heat,
                  double* celsius);

/// Of the exponential laws of temperature, what breathing is times that at 5 °C and the pressure of
/// saturated vapour [Pa].
void exponentials(std::size_t begin, std::size_t end, double growth, const double* celsius,
                  double* pace, double* saturation);

struct SourceFields {
    const double *pace, *at_5C, *held, *humidity, *humidity_before, *vapour_net, *extra, *rain;
    double *breath, *evaporation, *net;
};

/// Breathing, evaporation and what else does not pass between cells.
void sources(std::size_t begin, std::size_t end, double per_second, const SourceFields& f);

/// Where in the step a cell's heat is taken: no value overshoots while what is left of the step
/// before that point does not exceed the cell's own exchange time.
void shares(std::size_t begin, std::size_t end, double seconds, const double* fixed,
            const double* warm, const double* frozen, double* per_share);

/// by * v, into `into`.
void scale(std::size_t begin, std::size_t end, double by, const double* v, double* into);

/// v + by * add, into `into`.
void lead_by(std::size_t begin, std::size_t end, double by, const double* v, const double* add,
             double* into);

/// by * v, into `into`, and added to `sum`.
void scale_and_add(std::size_t begin, std::size_t end, double by, const double* v, double* into,
                   double* sum);

/// a * b, added to `sum`.
void add_products(std::size_t begin, std::size_t end, const double* a, const double* b,
                  double* sum);

struct WayFields {
    /// What spreads and what heat flows from a cell to the next [W/K]; the air's flow [kg/s].
    const double *spread, *heat_flow, *air_flow;
    const double *keeps, *rise;
    double *from_low, *from_high, *out;
};
/// What comes into a cell from the one below and the one above per their warmth, and, added to
/// `out`, what leaves it per its own. A warmer cell sends moister air on, too, whose heat the next
/// cell keeps a share of.
void heat_ways(std::size_t begin, std::size_t end, std::size_t stride, const WayFields& f);

/// Wakao's law for packed beds; vapour passes as heat does.
void transfers(std::size_t begin, std::size_t end, double diameter, const double* speed,
               const double* surface, double* transfer);

struct NewtonFields {
    const double *net, *heat, *heat_before, *per_share, *celsius, *fixed, *latent_slope, *breath;
    double *right, *per_diagonal, *capacity, *rest;
};

/// Right sides and diagonals of Newton's step, and the rests in kelvin: the greatest of them, which
/// is not a number if one of them is none.
double newton_rows(std::size_t begin, std::size_t end, double growth, const HeatFields& heats,
                   const NewtonFields& f);

/// What of a step's sources the balance asks for.
struct SourceSums {
    double breath = 0.0, evaporation = 0.0, evaporation_size = 0.0;
};
SourceSums source_sums(std::size_t begin, std::size_t end, const double* breath,
                       const double* evaporation);

}  // namespace beetwright::pile::loops
