// The season file's tables of observations.
#pragma once

#include <array>

#include "io/season_rows.hpp"

namespace beetwright::records {

/// By kind, in io::Observed's order.
inline constexpr std::array<const char*, io::kObservedKinds> kObservationTables{
    "loads",         "beet_sheets",    "strips",         "tares",
    "labs",          "standing_looks", "settings_notes", "part_changes",
    "cover_changes", "probe_readings", "pile_removals",  "places"};

}  // namespace beetwright::records
