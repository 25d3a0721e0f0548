// Grids of heights as text, in ESRI's way: a head of six lines, and rows from north to south.
// docs/formats/maps.md.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "ground/track.hpp"
#include "maps/map_facts.hpp"

namespace beetwright::maps {

/// The file does not say its coordinate system: the facts do, or it is supposed to be in degrees
/// where its numbers can be. Heights are metres unless the facts name another unit.
Result<ground::Heights> read_ascii_grid(std::string_view bytes, const std::string& file,
                                        const MapFacts& facts = {});

/// Whether this begins as such a grid does.
bool looks_like_ascii_grid(std::string_view bytes);

}  // namespace beetwright::maps
