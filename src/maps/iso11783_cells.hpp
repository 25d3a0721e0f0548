// Zones of a plan laid onto the cells of a grid. Only write_task_data uses this.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "io/problem_list.hpp"
#include "maps/iso11783_read.hpp"
#include "maps/zone_plan.hpp"

namespace beetwright::maps {

struct ZoneCells {
    TreatmentGrid grid;                ///< where the cells are, to the digits that are written
    std::vector<std::size_t> zone_of;  ///< index of each cell's zone, in the grid's order
};

/// A cell is of the zone that its middle lies in; one outside all is of the zone of the nearest
/// cell that is not, so that a machine at the field's edge keeps its settings. Problems are said
/// where there would be too many cells, or none for a zone.
ZoneCells zone_cells(const ZonePlan& plan, double cell_m, io::ProblemList& problems);

/// As positions are written, in degrees to nine places: a tenth of a millimetre.
std::string degrees_text(double degrees);

/// Of an area on the ellipsoid, in square metres.
double area_m2(const ground::Area& area);

}  // namespace beetwright::maps
