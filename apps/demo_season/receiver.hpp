// What the receiver of a lifting machine wrote down in Hollow Oak: passes up and down over two
// knolls and a wide hollow, with heights that drift; and the border around it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "ledger/season.hpp"

namespace beetwright::demo {

/// A table of positions with heights, as docs/formats/maps.md has it.
std::string receivers_log(std::uint64_t seed);

/// Where in Hollow Oak the spots of its sheets were looked at, as a phone tells it.
std::vector<check::Place> places_of_sheets(const ledger::Season& season);

/// The field's border as GeoJSON (RFC 7946): a corner is cut off where a ditch runs.
std::string field_border();

}  // namespace beetwright::demo
