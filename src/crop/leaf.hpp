// What sick or frozen leaf takes from a crop that is still growing.
//
// A sick crop grows by the leaf it has left, and pays for new leaf with the root's sugar. Both act
// on what is still to come: what a disease has taken already, a dug sample shows. Nothing here
// touches storage: leaf spot leaves the breathing of roots as it was (Fugate et al. 2023, Plant
// Dis. 107 [V]), so the pile must not count it again. docs/methods/growth.md.
#pragma once

#include <algorithm>

#include "base/catalogue.hpp"

namespace beetwright::crop {

/// Share of the leaf's area that is diseased, by eye; it is taken to rise evenly.
struct LeafDisease {
    double now = 0.0;
    double later = 0.0;
};

struct LeafConstants {
    double growth = 0.0;        ///< share of the growth lost per share of leaf diseased
    double pol = 0.0;           ///< [kg/kg] lost as disease takes the whole leaf
    double frost_growth = 0.0;  ///< share of the growth left after leaf froze
    double frozen_loss = 0.0;   ///< share of recoverable sugar lost where roots froze in the ground
};

/// The constants of one draw; get(ConstantId) gives a constant's SI value in that draw.
template <class Get>
LeafConstants leaf_constants(Get&& get) {
    return {std::max(0.0, get(ConstantId::crop_leaf_growth)), get(ConstantId::crop_leaf_pol),
            std::clamp(get(ConstantId::crop_frost_growth), 0.0, 1.0),
            std::min(1.0, get(ConstantId::crop_frozen_loss))};
}

/// Share of a healthy crop's growth that is left.
inline double growth_left(const LeafDisease& leaf, const LeafConstants& constants) {
    return std::max(0.0, 1.0 - constants.growth * 0.5 * (leaf.now + leaf.later));
}
/// Pol lost by the spread from now on [kg/kg].
inline double pol_lost(const LeafDisease& leaf, const LeafConstants& constants) {
    return constants.pol * std::max(0.0, leaf.later - leaf.now);
}

}  // namespace beetwright::crop
