// The periodic terms of the solar position algorithm (sun.hpp), as its report tabulates them.
#pragma once

#include <array>
#include <span>

namespace beetwright::weather {

/// size cos(phase + rate t), t in Julian millennia.
struct PeriodicTerm {
    double size;
    double phase;
    double rate;
};

/// Of the nutation: multiples of the five fundamental angles, and the sizes in 0.0001 arcseconds.
struct NutationTerm {
    std::array<double, 5> multiples;
    double longitude;
    double longitude_rate;
    double obliquity;
    double obliquity_rate;
};

// A list for each power of t; sums in 1e-8 rad, the distance in 1e-8 astronomical units.
std::span<const std::span<const PeriodicTerm>> longitude_terms();
std::span<const std::span<const PeriodicTerm>> latitude_terms();
std::span<const std::span<const PeriodicTerm>> distance_terms();
std::span<const NutationTerm> nutation_terms();

}  // namespace beetwright::weather
