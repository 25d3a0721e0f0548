// Rings as files have them, put in order: each corner once, outer ones counter-clockwise, holes
// clockwise. Longitudes are gone through by the shorter way round the earth, so that nothing here
// minds the antimeridian.
#pragma once

#include <cstddef>
#include <string>

#include "ground/area.hpp"
#include "ground/local_plane.hpp"

namespace beetwright::maps {

/// Degrees east from the one longitude to the other by the shorter way, -180 to 180.
double longitude_step_deg(double from_deg, double to_deg);

/// What a ring encloses in square degrees; below zero where it runs clockwise.
double turning_deg2(const ground::Ring& ring);

/// Leaves out a last corner that is the first again, and corners written twice in a row.
void leave_out_repeated(ground::Ring& ring);

/// Turns rings that run the other way; how many.
std::size_t turn_rings(ground::Area& area);

/// On earth, with rings that run as they should.
ground::Area area_on_earth(const ground::LocalPlane& plane, const ground::PlaneArea& area);

/// "53.100000, 8.200000": latitude first, as people say it.
std::string position_text(const ground::Position& position);

}  // namespace beetwright::maps
