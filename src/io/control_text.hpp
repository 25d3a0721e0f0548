// A control's value as people read it.
#pragma once

#include <string>

#include "base/unit.hpp"
#include "engine/harvester_question.hpp"

namespace beetwright::io {

/// In people's own system, and on its display where one is bound: "85 mm (display 42)".
std::string control_text(const engine::ControlReading& reading, UnitSystem system);

}  // namespace beetwright::io
