// Routes by which tablets and the server come to have the same season: the season as its files,
// what was seen while there was no network, and what managers set. docs/formats/api.md.
#pragma once

#include <functional>
#include <memory>

#include "app/access.hpp"
#include "app/answer_cache.hpp"
#include "app/season_keeper.hpp"

namespace beetwright::app {

/// `access` and `keeper` outlive the routes.
void add_sync_routes(Access& access, SeasonKeeper& keeper, std::shared_ptr<AnswerCache> cache,
                     std::function<Instant()> clock);

}  // namespace beetwright::app
