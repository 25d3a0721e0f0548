// Task data of ISO 11783-10, as terminals of machines write and read it: partfields with their
// boundaries, tasks with treatment zones and grids, and the logs of what was driven.
//
// docs/formats/iso11783.md.
#pragma once

#include <chrono>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "ground/track.hpp"
#include "maps/map_reading.hpp"
#include "maps/zip.hpp"

namespace beetwright::maps {

/// A value of a data identifier (ddi.hpp), in the identifier's own steps.
struct IdentifiedValue {
    std::uint16_t identifier = 0;
    std::int32_t steps = 0;
    friend bool operator==(const IdentifiedValue&, const IdentifiedValue&) = default;
};

struct TreatmentZone {
    int code = 0;  ///< 0 to 254
    std::string name;
    ground::Area area = {};  ///< none where a grid says what goes where
    std::vector<IdentifiedValue> values = {};
    friend bool operator==(const TreatmentZone&, const TreatmentZone&) = default;
};

/// Cells of equal degrees, row by row from the south, each row from the west.
struct TreatmentGrid {
    ground::Position south_west;
    double cell_north_deg = 0.0;
    double cell_east_deg = 0.0;
    std::uint32_t columns = 0;
    std::uint32_t rows = 0;
    std::vector<std::uint8_t> zone_codes = {};  ///< of type 1: a zone for each cell
    /// Of type 2: what each cell has values of, and those values, cell by cell.
    std::vector<std::uint16_t> identifiers = {};
    std::vector<std::int32_t> steps = {};

    [[nodiscard]] ground::Position middle(std::uint32_t column, std::uint32_t row) const {
        return {south_west.latitude_deg + (row + 0.5) * cell_north_deg,
                south_west.longitude_deg + (column + 0.5) * cell_east_deg};
    }
};

struct FieldTask {
    std::string name;
    std::string partfield;  ///< its name; empty where none is said
    std::vector<std::string> comments = {};
    std::vector<TreatmentZone> zones = {};
    std::optional<int> default_zone = {};
    std::optional<int> position_lost_zone = {};
    std::optional<int> out_of_field_zone = {};
    std::vector<TreatmentGrid> grids = {};
    std::vector<ground::Track> logs = {};
};

struct TaskDataReading {
    std::vector<NamedArea> partfields;  ///< those with a boundary
    std::vector<FieldTask> tasks;
    std::vector<std::string> notes;
};

/// What the files do not say.
struct TaskDataFacts {
    /// How far the terminal's clock is ahead of UTC; logs with the receiver's own time need none.
    std::chrono::minutes clock{0};
};

/// Whether a file TASKDATA.XML is among these.
bool holds_task_data(std::span<const NamedFile> files);
/// Reads TASKDATA.XML, in letters of any size and in any one folder, and what it names beside it.
/// All of it, or every problem found.
Result<TaskDataReading> read_task_data(std::span<const NamedFile> files,
                                       const TaskDataFacts& facts = {});
/// The same from an archive; its problems name `file`.
Result<TaskDataReading> read_task_data_zip(std::string_view bytes, const std::string& file,
                                           const TaskDataFacts& facts = {});

}  // namespace beetwright::maps
