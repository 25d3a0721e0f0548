// Roughly what the parts of a ledger cost, so that a share of the work done is a share of the wait.
// Measured once on one machine (bench/ledger_bench.cpp runs the same parts); a share that is a
// little off misleads nobody.
#pragma once

namespace beetwright::ledger::work {

// Each in nanoseconds for one draw.
inline constexpr double kTable = 15.0;       ///< one constant's or one order's table (draws.cpp)
inline constexpr double kConstants = 400.0;  ///< all models' constants (model.cpp)
inline constexpr double kStayDay = 20.0;     ///< one day of beets that were lifted together
inline constexpr double kField = 1000.0;     ///< drawing a field
inline constexpr double kSummary = 1000.0;   ///< summarising a field, a group or the season
inline constexpr double kContributors = 1000.0;  ///< what a field's lines are unsure of

}  // namespace beetwright::ledger::work
