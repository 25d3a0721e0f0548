// What somebody found in a crop that still stands: beets dug by hand, leaf judged by eye, crowns
// measured over the ground.
#pragma once

#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "base/quantity.hpp"
#include "base/time.hpp"
#include "base/uuid.hpp"
#include "check/sheet.hpp"

namespace beetwright::check {

/// One look; it says at least one thing of the crop, and whatever was not looked at stays unknown.
struct StandingLook {
    Uuid id;
    Uuid supersedes;  ///< nil: none
    std::string field;
    Instant at{};
    std::int32_t spots = 0;  ///< dug by hand; 0: not said
    Area area;               ///< dug, of all spots together
    CleanMass roots;         ///< from that area
    SugarContent pol;        ///< of those roots, likewise the next three
    AmountContent potassium;
    AmountContent sodium;
    AmountContent amino_nitrogen;
    double leaf_sick = std::numeric_limits<double>::quiet_NaN();  ///< share of leaf area, by eye
    Seen leaf_frozen = Seen::not_judged;
    /// Heights of crowns over the ground, one beet after another in a row; negative: below it.
    std::vector<Length> crowns;
};

}  // namespace beetwright::check
