// The program's routes: what is asked over HTTP, put to the engine, and answered in JSON or as a
// page. docs/formats/api.md.
#pragma once

#include <functional>
#include <memory>

#include "app/access.hpp"
#include "app/answer_cache.hpp"
#include "app/app_files.hpp"
#include "app/grounds.hpp"
#include "app/jobs.hpp"
#include "app/metrics.hpp"
#include "app/photo_routes.hpp"
#include "app/season_keeper.hpp"

namespace beetwright::app {

// All that is handed in outlives `access`. Handlers may run side by side.

/// Routes that read the season.
void add_reading_routes(Access& access, SeasonKeeper& keeper,
                        const std::shared_ptr<AnswerCache>& cache);
/// Whether the server is well, and what it has done.
void add_watching_routes(Access& access, const Metrics& metrics,
                         std::function<std::size_t()> connections);

struct Served {
    SeasonKeeper& keeper;
    const AppFiles& files;
    People* people = nullptr;  ///< nobody: everybody on this machine is an owner
    std::function<Instant()> clock;
    const Metrics& metrics;
    std::function<std::size_t()> connections;
    Photos* photos = nullptr;    ///< null: no photographs are taken
    Jobs* jobs = nullptr;        ///< null: questions that take long are not taken
    std::size_t job_bytes = 0;   ///< memory that one of them may take; 0: any
    Grounds* grounds = nullptr;  ///< null: nothing is kept of fields' ground
};
/// Every route that the server has.
void add_every_route(Access& access, const Served& served);

}  // namespace beetwright::app
