// Scenes of the story in which a machine's settings are at fault, or only look so: what was changed
// on it in the middle of a field, and what was seen of the beets from then on.
//
// Whoever asks `beetwright advise` in these fields should hear what the scene is about. The rest of
// the demo's truth does not follow settings; here the story says what comes of them.
#pragma once

#include <chrono>
#include <cstdint>
#include <span>
#include <string_view>

#include "demo_season/look.hpp"
#include "demo_season/machine_log.hpp"
#include "ledger/season.hpp"

namespace beetwright::demo {

/// Where tails are broken, at one place of their way.
struct TailsPlan {
    double whole_share;
    double mean_cm;  ///< of the broken ones
};

struct Scene {
    std::string_view field;
    int day;   ///< of the field's lifting, from 0
    int hour;  ///< UTC, at which the machine was set
    std::span<const SetPlan> set;
    check::Answer answer;
    /// Advice that was turned down at the same time; none: nothing was.
    std::span<const SetPlan> declined;
    TailsPlan before_cleaning;
    TailsPlan after_cleaning;
    double skin_cm2;   ///< torn, on the mean, after cleaning
    int spots_before;  ///< of ten beets each; 0: nobody looked there
    int spots_after;
    int strips;
};

std::span<const Scene> scenes();

/// The truth of the whole field: of a part of it the scene's, and of the rest `usual`. `tails`
/// stays that of the rest.
FieldTruth with_scenes(const FieldPlan& plan, FieldTruth usual, const LossPhysics& physics);

/// What was noted and seen in the scenes of one field, added to the season.
void add_scenes(const Look& look, const ledger::Machine& machine, const LossPhysics& physics,
                ledger::Season& season);

}  // namespace beetwright::demo
