// What people write down of a pile while it stands: covers, temperatures inside it, what was taken
// away. Where on it, is said along its length, from the end at which it was begun.
#pragma once

#include <cstdint>
#include <string>

#include "base/quantity.hpp"
#include "base/time.hpp"
#include "base/uuid.hpp"

namespace beetwright::check {

/// A part of a pile's length. An end that is NaN is the pile's own.
struct Stretch {
    Length from;
    Length to;
};

enum class PileCover : std::uint8_t {
    none,
    fleece,
    straw,
    plastic,
    strips,  ///< sheets with gaps between, so that a pile that stays covered can breathe
};

/// From then on this lies on that part of the pile, and nothing that lay there before.
struct CoverChange {
    Uuid id;
    Uuid supersedes;  ///< nil: none
    std::string pile;
    Instant at{};
    Stretch stretch;
    PileCover cover = PileCover::none;
};

enum class ProbeKind : std::uint8_t {
    lance,    ///< pushed in for this reading
    logger,   ///< buried, and left there
    surface,  ///< the outside, by hand or from a picture of its warmth
};

/// One temperature at one place of a pile.
struct ProbeReading {
    Uuid id;
    Uuid supersedes;
    std::string pile;
    Instant at{};
    std::string probe;  ///< its name or number
    ProbeKind kind = ProbeKind::lance;
    Length along;   ///< from the end at which the pile was begun
    Length across;  ///< from the middle line, to the right of who looks along the pile
    Length height;  ///< over the ground
    Temperature temperature;
};

/// What was taken away from a pile.
struct PileRemoval {
    Uuid id;
    Uuid supersedes;
    std::string pile;
    Instant at{};
    Stretch stretch;
    MassWithSoil gross;  ///< NaN: not weighed
};

}  // namespace beetwright::check
