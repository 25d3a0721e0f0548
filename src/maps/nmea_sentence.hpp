// One line of an NMEA 0183 log: its checksum, and what GGA and RMC say.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "ground/track.hpp"

namespace beetwright::maps {

/// What one sentence says of one instant.
struct Sentence {
    enum class Kind { other, gga, rmc };
    Kind kind = Kind::other;
    std::optional<std::chrono::milliseconds> time_of_day = std::nullopt;
    std::optional<Day> day = std::nullopt;  ///< RMC
    /// Nothing where the receiver had none.
    std::optional<ground::Position> position = std::nullopt;
    ground::FixKind fix = ground::FixKind::unknown;
    bool is_simulated = false;  ///< or typed in by hand
    int satellites = -1;
    double horizontal_dilution = ground::kNotSaid;
    double height_m = ground::kNotSaid;  ///< over the geoid
    double speed_m_s = ground::kNotSaid;
    double course_deg = ground::kNotSaid;
};

/// What stands from the line's last dollar sign on. The problem has no place yet. Sentences of
/// makers' own ($P...) are not looked into.
Result<Sentence> read_sentence(std::string_view text);

}  // namespace beetwright::maps
