// Observations by kind and id: where their rows stand in a folder, and which a season holds.
#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <vector>

#include "base/result.hpp"
#include "base/uuid.hpp"
#include "ledger/season.hpp"

namespace beetwright::io {

enum class Observed {
    load,
    sheet,
    strip,
    tare,
    lab,
    standing,
    settings,
    part,
    cover,
    probe,
    removal,
    place
};
inline constexpr std::size_t kObservedKinds = 12;

/// The ids that a season holds already, by kind.
using KnownIds = std::array<std::vector<Uuid>, kObservedKinds>;
KnownIds ids_of(const ledger::Season& season);

/// File and line of each observation of a folder, by its id; that of a sheet, or of a note of
/// settings, is its first row.
using RowPlaces = std::map<Uuid, Where>;

/// The id of a sheet that goes by a name: the same in either table of beets, for one field.
inline Uuid sheet_id(const std::string& name, const std::string& field) {
    return Uuid::parse(name).value_or(Uuid::from_text("sheet\x1f" + name + '\x1f' + field));
}

/// Likewise of a note of settings, for one machine.
inline Uuid note_id(const std::string& name, const std::string& machine) {
    return Uuid::parse(name).value_or(Uuid::from_text("settings\x1f" + name + '\x1f' + machine));
}

}  // namespace beetwright::io
