// Which hours of the coming days are fit for lifting, and how sure is that?
#pragma once

#include <chrono>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/pool.hpp"
#include "base/result.hpp"
#include "engine/ground_ahead.hpp"
#include "ledger/season.hpp"
#include "weather/open_chance.hpp"

namespace beetwright::engine {

struct SkyQuestion {
    std::string field = {};          ///< empty: of a usual soil, for a pile
    std::optional<Instant> at = {};  ///< now; absent: as_of()
    int days = 10;                   ///< 1 to 60
    std::size_t members = 50;        ///< 1 to 500
    bool works_at_night = true;
};

struct SkyAnswer {
    std::string field;
    Instant at{};
    std::chrono::minutes clock{0};
    Instant known_until{};     ///< weather was measured to here
    Instant forecast_until{};  ///< forecast to here; after it comes what is usual
    double useful_day_h = 0.0;
    std::vector<weather::DayAhead> days;
    std::vector<weather::OpenDay> open;  ///< of the same days
    /// Likewise, of a field in whose season weather was measured; else empty.
    std::vector<GroundAhead> ground;
    std::vector<std::string> assumptions;
};

/// Problems: no weather is known, or none of what comes; a field that is not in the season; numbers
/// out of bounds.
Result<SkyAnswer> ask_sky(const ledger::Season& season, const SkyQuestion& question,
                          WorkerPool& pool, Progress* progress = nullptr);

}  // namespace beetwright::engine
