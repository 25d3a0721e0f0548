// A machine in its field, and how what comes out follows a control: for programs.
#pragma once

#include <string>

#include "engine/machine_question.hpp"
#include "io/json.hpp"

namespace beetwright::io {

/// A control's value: SI, as people read it, and on the machine's display.
Json reading_json(const engine::ControlReading& reading);

std::string machine_json(const engine::MachineAnswer& answer);
std::string response_json(const engine::ResponseAnswer& answer, const std::string& currency);

}  // namespace beetwright::io
