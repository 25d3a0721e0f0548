// Logs of satellite receivers in NMEA 0183: where a machine drove, from the sentences GGA and RMC
// of any talker. docs/formats/maps.md.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "ground/track.hpp"

namespace beetwright::maps {

/// Lines that were damaged on the way are passed over, with a note, as long as most are whole.
/// Heights are over sea level. `first_day` is for logs without RMC, which do not say the day.
Result<ground::Track> read_nmea(std::string_view bytes, const std::string& file,
                                std::optional<Day> first_day = std::nullopt);

/// Whether this begins as such a log does: within its first lines is a sentence of satellites.
bool looks_like_nmea(std::string_view bytes);

}  // namespace beetwright::maps
