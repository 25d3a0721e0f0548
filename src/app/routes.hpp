// The program's routes: what is asked over HTTP, put to the engine, and answered in JSON or as a
// page. docs/formats/api.md.
#pragma once

#include "app/season_keeper.hpp"
#include "http/router.hpp"

namespace beetwright::app {

/// Routes that read the season. `keeper` outlives the router. Handlers may run side by side.
void add_reading_routes(http::Router& router, SeasonKeeper& keeper);

}  // namespace beetwright::app
