// The same beets without one of their losses: what that loss costs at the end of the ledger.
#pragma once

#include "ledger/flow.hpp"

namespace beetwright::ledger {

/// Puts back into the delivered beet a part of the root that was lost, with its own sugar content.
inline void put_back(Standing& s, double& share, double sugar_ratio) {
    const double lifted = 1.0 - s.over_topped_share - s.tail_share;
    const double back = share;
    share = 0.0;
    const double factor = (lifted + back * sugar_ratio) / (lifted + back);
    s.pol *= factor;
}

/// The field with this loss alone undone, and with it what follows from it: a beet with its tail on
/// has no wound there in the pile.
inline Standing without(Standing s, Line line) {
    switch (line) {
        case Line::over_topping: put_back(s, s.over_topped_share, s.crown_slice_sugar_ratio); break;
        case Line::tails:
            put_back(s, s.tail_share, s.tail_sugar_ratio);
            s.condition.tail_wound = 0.0;
            break;
        case Line::whole_roots:
            s.harvested += s.whole_roots;
            s.whole_roots = 0.0;
            break;
        case Line::pieces:
            s.harvested += s.pieces;
            s.pieces = 0.0;
            break;
        case Line::storage_tail_wounds: s.condition.tail_wound = 0.0; break;
        case Line::storage_crown_wounds: s.condition.crown_wound = 0.0; break;
        case Line::storage_skin_wounds: s.condition.skin_wound = 0.0; break;
        case Line::storage_leaf_and_soil:
            s.condition.leaf = 0.0;
            s.condition.soil = 0.0;
            break;
        case Line::storage_rot_and_frost:
            s.condition.rotten_share = 0.0;
            s.condition.frosted_share = 0.0;
            break;
        case Line::molasses: s.molasses = 0.0; break;
        case Line::crown_and_leaf:
            s.molasses_of_leaf = 0.0;
            s.tops = 0.0;
            s.condition.leaf = 0.0;
            break;
        case Line::factory_loss: s.factory_loss = 0.0; break;
        case Line::soil_and_tops:
            s.soil = 0.0;
            s.tops = 0.0;
            s.condition.soil = 0.0;
            s.condition.leaf = 0.0;
            break;
        default: break;
    }
    return s;
}

}  // namespace beetwright::ledger
