// A grid of task data: its element and its file of cells. Only read_task_data uses this.
#pragma once

#include <optional>
#include <span>

#include "maps/iso11783_element.hpp"
#include "maps/iso11783_read.hpp"

namespace beetwright::maps {

/// What GRD says; the cells are in a file yet.
struct GridElement {
    const XmlElement* element = nullptr;
    std::string file;  ///< its name without the ending
    TreatmentGrid grid;
    int type = 0;                  ///< 1: a zone for each cell; 2: values for each cell
    std::optional<int> zone = {};  ///< of type 2: the zone that says what the values are of
};

std::optional<GridElement> read_grid_element(ElementReader& reader, const XmlElement& element);

/// The grid with its cells. `zones` are those of its task.
std::optional<TreatmentGrid> read_grid_cells(ElementReader& reader, GridElement grid,
                                             const NamedFile& cells,
                                             std::span<const TreatmentZone> zones,
                                             io::ProblemList& problems);

}  // namespace beetwright::maps
