// How high do crowns stand, and how evenly? For the person who goes along a row with a ruler.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "crop/crown_heights.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

struct CrownsAnswer {
    crop::CrownHeights crowns;
    std::string words;  ///< one sentence for the person measuring
};

/// Problems: fewer than five heights, one that is not within half a metre of the ground, all the
/// same; bad replacements of constants.
Result<CrownsAnswer> ask_crowns(const ledger::Season& season, const std::vector<Length>& heights);

}  // namespace beetwright::engine
