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

/// How the soil feels when it is taken up from the depth that is lifted from.
enum class SoilInHand : std::uint8_t {
    not_judged,
    hard,     ///< breaks into clods
    crumbly,  ///< falls apart
    plastic,  ///< can be kneaded
    sticky,   ///< clings to hand and tool
};

/// Whether crowns stand at one height.
enum class Evenness : std::uint8_t { not_judged, even, fair, uneven };

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
    SoilInHand soil_in_hand = SoilInHand::not_judged;
    Length crown_height;  ///< mean height over the ground, by eye; negative: below it
    Evenness evenness = Evenness::not_judged;
    BeetsPerArea plants;
    CleanMass root_mass;  ///< mean of one beet
    /// Heights of crowns over the ground, one beet after another in a row; negative: below it.
    std::vector<Length> crowns;

    /// Of what a harvester meets besides leaf and measured crowns.
    [[nodiscard]] bool says_how_it_stands() const {
        return soil_in_hand != SoilInHand::not_judged || crown_height.is_known() ||
               evenness != Evenness::not_judged || plants.is_known() || root_mass.is_known();
    }
};

}  // namespace beetwright::check
