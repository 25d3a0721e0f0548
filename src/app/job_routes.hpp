// Routes by which long questions are started, followed and cancelled. docs/formats/api.md.
#pragma once

#include "app/access.hpp"
#include "app/jobs.hpp"
#include "app/season_keeper.hpp"

namespace beetwright::app {

/// `access`, `keeper` and `jobs` outlive the routes. `most_bytes`: memory that one job may take.
void add_job_routes(Access& access, SeasonKeeper& keeper, Jobs& jobs, std::size_t most_bytes);

}  // namespace beetwright::app
