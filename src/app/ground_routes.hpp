// What a season keeps of its fields' ground, over HTTP. docs/formats/api.md.
#pragma once

#include <functional>

#include "app/access.hpp"
#include "app/grounds.hpp"
#include "app/season_keeper.hpp"

namespace beetwright::app {

/// All that is handed in outlives `access`.
void add_ground_routes(Access& access, SeasonKeeper& keeper, Grounds& grounds,
                       std::function<Instant()> clock);

}  // namespace beetwright::app
