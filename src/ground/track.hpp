// What a receiver wrote down while a machine drove: where it was, how high, how sure.
#pragma once

#include <cstdint>
#include <limits>
#include <string>
#include <vector>

#include "base/time.hpp"
#include "ground/position.hpp"

namespace beetwright::ground {

inline constexpr double kNotSaid = std::numeric_limits<double>::quiet_NaN();

/// How a receiver came to a position, the least sure first.
enum class FixKind : std::uint8_t {
    none,
    unknown,       ///< the file does not say
    estimated,     ///< dead reckoning
    autonomous,    ///< satellites alone: heights drift by metres
    differential,  ///< corrected: by some decimetres
    float_phase,   ///< carrier phase without whole cycles
    fixed_phase,   ///< carrier phase: centimetres
};

/// What heights are counted from.
enum class HeightOver : std::uint8_t { unknown, sea_level, ellipsoid };

/// One instant of a track. Numbers that a file does not say are NaN.
struct Fix {
    Instant at{};
    Position position;
    double height_m = kNotSaid;
    FixKind kind = FixKind::unknown;
    int satellites = -1;  ///< -1: not said
    double horizontal_dilution = kNotSaid;
    double speed_m_s = kNotSaid;
    double course_deg = kNotSaid;   ///< clockwise from true north
    bool works = true;              ///< the machine was at work, as far as the file says
    double yield_kg_m2 = kNotSaid;  ///< of beet as harvested, where the file says it
};

/// In the order in which it was driven.
struct Track {
    std::string name;
    HeightOver heights_over = HeightOver::unknown;
    std::vector<Fix> fixes;
    std::vector<std::string> notes = {};  ///< what was supposed in reading
};

/// A height by itself, as from a grid of heights.
struct HeightPoint {
    Position position;
    double height_m = 0.0;
};

struct Heights {
    std::string name;
    HeightOver heights_over = HeightOver::unknown;
    double spacing_m = kNotSaid;  ///< between neighbours, where they stand in a grid
    std::vector<HeightPoint> points;
    std::vector<std::string> notes = {};
};

}  // namespace beetwright::ground
