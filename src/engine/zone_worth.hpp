// What beets on a knoll or in a hollow are like against those of the field at large, how a machine
// is best set there, and what that is worth against one setting for all.
//
// docs/methods/zones.md.
#pragma once

#include <vector>

#include "engine/harvester_basis.hpp"
#include "engine/lie_beliefs.hpp"
#include "ground/patches.hpp"
#include "harvester/settings.hpp"

namespace beetwright::engine {

/// Conditions that may each be those of such ground.
inline constexpr std::size_t kLieLots = 8;
std::vector<harvester::Conditions> conditions_on(ground::Lie lie,
                                                 const harvester::Conditions& field,
                                                 const LieBeliefs& beliefs);

struct LieWorth {
    ground::Lie lie{};
    /// Those that earn most there, of controls that are set from the seat; the others as
    /// everywhere.
    harvester::Settings settings;
    /// Over the field's settings there [money/m2], a draw for each of the lots and draws of what is
    /// known.
    std::vector<double> gains;
    double hour_cost = 0.0;  ///< of machine and crew [money/s]
};

/// `everywhere`: one setting for all of the field. Problems: those of situation().
Result<LieWorth> worth_on(ground::Lie lie, const HarvesterBasis& basis,
                          const harvester::Settings& everywhere, const LieBeliefs& beliefs);

}  // namespace beetwright::engine
