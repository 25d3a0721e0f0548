// What is left of a receiver's track once it can be reckoned with: no lost fixes, no spikes, no
// standing, and parted into the passes that were driven. docs/methods/relief.md.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "ground/local_plane.hpp"
#include "ground/track.hpp"

namespace beetwright::ground {

/// One fix in a field's plane. Numbers that the track does not say are NaN.
struct Sample {
    Point at;
    double since_s = 0.0;  ///< since the track's first fix
    double height_m = kNotSaid;
    double yield_kg_m2 = kNotSaid;
    int pass = -1;  ///< which of the passes; -1: a turn, or on the way
};

/// A straight run.
struct Pass {
    std::size_t first = 0;  ///< of its samples
    std::size_t count = 0;
    double length_m = 0.0;
    double heading_rad = 0.0;  ///< counter-clockwise from east
};

struct Cleaned {
    std::vector<Sample> samples;  ///< in the order driven
    std::vector<Pass> passes;
    double direction_rad = 0.0;      ///< in which most is driven, 0 to pi
    std::vector<double> gaps_m;      ///< from pass to pass side by side
    double spacing_m = kNotSaid;     ///< their median; NaN where no two lie side by side
    double speed_m_s = kNotSaid;     ///< median of that of passes
    std::vector<std::string> notes;  ///< what was left out, and why
};

/// The plane of a track: about the middle of its fixes, whatever a few of them say.
/// Problems: no fix in it.
Result<LocalPlane> plane_of(const Track& track);

/// Problems: fewer than 20 fixes that can be used; most of them without a fix or far from the rest.
Result<Cleaned> clean(const Track& track, const LocalPlane& plane);

}  // namespace beetwright::ground
