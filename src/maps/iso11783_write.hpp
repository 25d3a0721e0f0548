// A plan of zones as task data of ISO 11783-10, for a machine's terminal.
//
// What the standard has an identifier for goes out as values that a terminal can set by itself
// (ddi.hpp: the forward speed and the leaf remover's height). All else goes out in words that
// a person reads and sets by hand: in the zone's name where they fit into the 32 characters that
// the standard gives it, else each as a comment of the task. docs/formats/iso11783.md.
#pragma once

#include <string>
#include <vector>

#include "base/result.hpp"
#include "maps/zone_plan.hpp"

namespace beetwright::maps {

enum class TaskDataForm {
    zones,  ///< polygons with their values
    grid,   ///< values for each cell: for terminals that do not take polygons
};

struct TaskDataOptions {
    TaskDataForm form = TaskDataForm::zones;
    double cell_m = 3.0;            ///< side of a grid's cells
    std::string version = "0.1.0";  ///< of this program, as the file says it
};

struct WrittenTaskData {
    std::string zip;                 ///< an archive with the folder TASKDATA in it
    std::vector<std::string> notes;  ///< what goes out in words, what was shortened
};

/// The largest zone's settings hold where the terminal knows no position or no zone.
Result<WrittenTaskData> write_task_data(const ZonePlan& plan, const TaskDataOptions& options = {});

}  // namespace beetwright::maps
