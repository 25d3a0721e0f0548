// How high crowns stand, and how evenly, from about twenty beets measured in a row.
//
// One setting of a topper fits a stand as well as its crowns are alike.
// docs/methods/crown_heights.md.
#pragma once

#include <span>
#include <string_view>

#include "base/catalogue.hpp"
#include "base/estimate.hpp"
#include "base/quantity.hpp"
#include "base/result.hpp"

namespace beetwright::crop {

enum class Evenness { even, fair, uneven };
std::string_view words(Evenness evenness);

/// Heights of crowns over the ground, taken as normal.
struct CrownHeights {
    int beets = 0;
    Estimate<Length> mean;
    Estimate<Length> sd;  ///< the value is the sample's own
    double even = 0.0;    ///< chances; the three sum to 1
    double fair = 0.0;
    double uneven = 0.0;
    Evenness likeliest = Evenness::fair;
};

/// At least five heights, each within half a metre of the ground, not all the same.
Result<CrownHeights> crown_heights(std::span<const Length> heights, const Catalogue& catalogue);

/// What a knife set at one height over the ground does to the beets it passes.
struct KnifeShares {
    double untouched = 0.0;  ///< crowns that end below the knife
    double too_deep = 0.0;   ///< crowns that end more than `thickest` above it
    double good = 0.0;
};
/// For the next beets of the stand, with the doubt about mean and spread in it (Student).
KnifeShares knife_shares(const CrownHeights& crowns, Length knife, Length thickest);

}  // namespace beetwright::crop
