// What was piled where and when: loads that are alike, in one part of the pile.
#pragma once

#include "base/result.hpp"
#include "pile/clipped_box.hpp"
#include "pile/constants.hpp"

namespace beetwright::pile {

/// How much the beets of some places breathe beyond those of others: logarithms of the height of
/// smooth waves over the section.
struct BreathingWaves {
    double across = 0.0;  ///< from one flank to the other, half a wave
    double up = 0.0;      ///< from the ground to the top, likewise
    double both = 0.0;    ///< their product
    double middle = 0.0;  ///< of the middle against the flanks, a whole wave

    /// Their factor at shares of the width and the height.
    [[nodiscard]] double at(double width_share, double height_share) const;
};

/// Never, in hours of a run.
inline constexpr double kNever_h = 1e9;

struct Lot {
    LumpCondition beet;          ///< its wounds, leaf and soil: what its checks saw
    double sugar = 0.175;        ///< [kg/kg clean beet] as piled
    double celsius = 8.0;        ///< as piled
    double degree_days = 0.0;    ///< since lifting, as piled [°C·d]
    double film = 0.5;           ///< adhering water, of what it can hold
    BreathingWaves uneven = {};  ///< over the whole section, wherever in it the lot lies
    /// The part of the pile that it fills: cells with their centres within.
    Point low{-1e9, -1e9, -1e9};
    Point high{1e9, 1e9, 1e9};
    double piled_h = 0.0;         ///< hour of the run in which it is put there
    double removed_h = kNever_h;  ///< and taken away
};

/// Porosity of a pile of such beet: soil and leaf fill pores.
inline double porosity(const LumpCondition& beet, const PileConstants& c) {
    const double between_roots = 1.0 - c.bulk_density / c.root_density;
    return between_roots -
           c.bulk_density * (beet.soil / c.soil_density + beet.leaf / c.leaf_density);
}

/// How a bed of spheres resists air: pressure drop per length = viscosity u inverse_permeability +
/// density inertia u^2 (Ergun 1952).
struct Resistance {
    double inverse_permeability = 0.0;  ///< [1/m2]
    double inertia = 0.0;               ///< [1/m]
};
inline Resistance ergun(double diameter_m, double porosity_share) {
    const double solid = 1.0 - porosity_share;
    const double pores3 = porosity_share * porosity_share * porosity_share;
    return {150.0 * solid * solid / (diameter_m * diameter_m * pores3),
            1.75 * solid / (diameter_m * pores3)};
}

/// Problems: shares that are none, more soil and leaf than pores, sugar or temperature of no beet.
Result<Done> check_lot(const Lot& lot, const PileConstants& constants);

}  // namespace beetwright::pile
