// A machine in its field, and how what comes out follows a control: for programs.
#pragma once

#include <string>
#include <vector>

#include "base/unit.hpp"
#include "engine/machine_question.hpp"
#include "io/json.hpp"

namespace beetwright::io {

/// A control's value: SI, as people read it, and on the machine's display.
Json reading_json(const engine::ControlReading& reading);

/// What is suspected to be worn.
Json wear_json(const std::vector<engine::Wear>& all);
/// In which people read what comes out of a harvester.
Unit figure_unit(UnitKind kind, UnitSystem system);

std::string machine_json(const engine::MachineAnswer& answer);
std::string response_json(const engine::ResponseAnswer& answer, const std::string& currency);

}  // namespace beetwright::io
