// Places and heights of the ground as people read them.
#pragma once

#include <string>

#include "base/unit.hpp"
#include "ground/position.hpp"

namespace beetwright::io {

/// "48.20012 N 16.30021 E": to a metre, as a phone takes it.
std::string compass_text(const ground::Position& at);

/// A rise or a fall, always in metres or feet, so that two of them compare: "1.4 m".
std::string relief_text(double out_m, UnitSystem system);

}  // namespace beetwright::io
