// Polygons in a plane, looked through and cut. The library for it is seen in plane_polygons.cpp
// alone.
#pragma once

#include <optional>
#include <string>

#include "ground/area.hpp"

namespace beetwright::maps {

enum class Flaw {
    crosses_itself,
    touches_itself,
    hole_outside,
    holes_overlap,
    cut_in_two,  ///< holes part what is inside
    polygons_overlap,
    other,
};

struct PlaneFlaw {
    Flaw kind = Flaw::other;
    ground::Point at;
    std::string words;  ///< the library's own, for Flaw::other
};

/// The first thing that is wrong with an area whose rings have three corners each; nothing where
/// all is in order. `polygon` is set to which of them it is in; to their number where two overlap.
std::optional<PlaneFlaw> flaw_of(const ground::PlaneArea& area, std::size_t& polygon);

/// What of an area, in which no flaw was found, lies between two eastings.
ground::PlaneArea between(const ground::PlaneArea& area, double west_m, double east_m);

/// What any of these polygons covers; they may touch and overlap.
ground::PlaneArea united(const ground::PlaneArea& polygons);
/// What two areas have in common.
ground::PlaneArea in_common(const ground::PlaneArea& one, const ground::PlaneArea& other);
/// What of the one the other does not cover.
ground::PlaneArea without(const ground::PlaneArea& one, const ground::PlaneArea& other);

}  // namespace beetwright::maps
