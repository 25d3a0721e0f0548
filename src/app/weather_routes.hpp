// The season's weather over HTTP: what is known, and files of weather brought in.
#pragma once

#include <functional>
#include <memory>

#include "app/access.hpp"
#include "app/answer_cache.hpp"
#include "app/season_keeper.hpp"

namespace beetwright::app {

/// All that is handed in outlives `access`.
void add_weather_routes(Access& access, SeasonKeeper& keeper, std::shared_ptr<AnswerCache> cache,
                        std::function<Instant()> clock);

}  // namespace beetwright::app
