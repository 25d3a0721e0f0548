// Zones with their settings, as they go out to a phone, a printer or a machine's terminal.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ground/area.hpp"
#include "harvester/control.hpp"

namespace beetwright::maps {

/// A control at a value, in SI or which of its choices (harvester/control.hpp).
struct PlannedControl {
    harvester::Control control;
    double value = 0.0;
    std::optional<double> shown =
        std::nullopt;  ///< on the machine's display; absent: none is bound
};

struct PlannedZone {
    int number = 0;     ///< from 1
    std::string words;  ///< "knoll", "low wet ground"
    ground::Area area;
    std::vector<PlannedControl> settings;
};

struct ZonePlan {
    std::string season;
    std::string field;
    ground::Area boundary;
    std::vector<PlannedZone> zones;  ///< in the order of their numbers; they do not overlap
};

}  // namespace beetwright::maps
