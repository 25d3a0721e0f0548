// Routes by which long questions are started, followed and cancelled. docs/formats/api.md.
#pragma once

#include "app/access.hpp"
#include "app/grounds.hpp"
#include "app/jobs.hpp"
#include "app/season_keeper.hpp"

namespace beetwright::app {

/// All that is handed in outlives the routes. `most_bytes`: memory that one job may take.
/// `grounds`: who knows fields' ground; null: nobody.
void add_job_routes(Access& access, SeasonKeeper& keeper, Jobs& jobs, std::size_t most_bytes,
                    Grounds* grounds);

}  // namespace beetwright::app
