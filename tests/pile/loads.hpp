// Loads of beet that the tests of storage share.
#pragma once

#include <vector>

#include "base/random.hpp"
#include "pile/lump.hpp"

namespace beetwright::pile {

inline constexpr double kPol = 0.175;  ///< sugar in the beet when lifted [kg/kg]

inline LumpConstants central() {
    const Catalogue catalogue;
    return lump_constants([&](ConstantId id) { return catalogue.value(id); });
}
/// Every constant drawn from its spread.
inline LumpConstants drawn(RandomStream& random) {
    const Catalogue catalogue;
    return lump_constants([&](ConstantId id) { return catalogue.at_score(id, random.normal()); });
}

inline std::vector<double> steady(double celsius, int days) {
    return std::vector<double>(static_cast<std::size_t>(days), celsius);
}

/// An ordinary commercially lifted load: tails broken at about 2.3 cm, a disc of 38 mm cut off the
/// crown, 15 cm2 of torn skin on a root of 468 cm2; 1 % leaf and 6 % soil.
inline LumpCondition ordinary() {
    return {.tail_wound = 4.2 / 468.0,
            .crown_wound = 11.3 / 468.0,
            .skin_wound = 15.0 / 468.0,
            .leaf = 0.01,
            .soil = 0.06};
}
inline double wounds_of(const LumpCondition& beet) {
    return beet.tail_wound + beet.crown_wound + beet.skin_wound;
}
inline LumpCondition with_wounds(LumpCondition beet, double times) {
    beet.tail_wound *= times;
    beet.crown_wound *= times;
    beet.skin_wound *= times;
    return beet;
}
/// The least that is ever done to a beet that is sold: lifted by hand, cut clean.
inline LumpCondition lifted_by_hand() {
    return {.crown_wound = 5.0 / 468.0, .skin_wound = 2.0 / 468.0};
}

inline double loss_at(double celsius, int days, const LumpCondition& beet,
                      const LumpConstants& constants = central()) {
    return lump_loss(exposure(steady(celsius, days), constants), beet, constants, kPol).total();
}

}  // namespace beetwright::pile
