// What stands in a field, and what is waiting with it worth?
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/pool.hpp"
#include "base/result.hpp"
#include "crop/crown_heights.hpp"
#include "crop/wait.hpp"
#include "engine/ground_state.hpp"
#include "ledger/season.hpp"

namespace beetwright::engine {

struct StandingQuestion {
    std::string field;
    int wait_days = 7;               ///< 1 to 60
    std::optional<Instant> at = {};  ///< now; absent: as_of()
};

/// A field's crop on one day; what of it would be delivered, the wait says.
struct CropOnDay {
    Day day{};
    Estimate<CleanMassPerArea> root;  ///< as dug by hand
    Estimate<SugarContent> pol;
    Estimate<SugarContent> molasses;  ///< lost to molasses
};

struct LeafSeen {
    Day day{};
    double sick = 0.0;  ///< share of the leaf's area; NaN: not judged
    bool is_frozen = false;
};

struct CrownsSeen {
    Day day{};
    crop::CrownHeights heights;
};

struct StandingAnswer {
    std::string field;
    std::string soil;  ///< the grower's word
    Instant at{};
    CropOnDay now;
    CropOnDay later;
    RestsOn rests_on = RestsOn::published;
    std::string evidence;               ///< "2 digs here, the last on 2031-09-15; 14 other fields"
    std::optional<GroundState> ground;  ///< where weather was measured
    std::optional<LeafSeen> leaf;
    std::optional<CrownsSeen> crowns;
    crop::Mishaps mishaps;
    bool mishaps_known = false;  ///< false: no weather is known, and none is set against the wait
    crop::WaitWorth wait;
    std::vector<std::string> assumptions;
};

/// Problems: no such field; one that was lifted before; a wait out of bounds; bad replacements of
/// constants.
Result<StandingAnswer> ask_standing(const ledger::Season& season, const StandingQuestion& question,
                                    WorkerPool& pool);

}  // namespace beetwright::engine
