// What was read in a pile, as text for a terminal.
#pragma once

#include <string>

#include "engine/pile_question.hpp"
#include "io/pile_writing.hpp"

namespace beetwright::io {

/// A table of the probes, what they moved, and where the next would teach most. Nothing where
/// nothing was read but for the last.
std::string probes_text(const engine::PileAnswer& answer, const PileWriter& writer);

}  // namespace beetwright::io
