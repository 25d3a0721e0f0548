// What was read in a pile, for programs.
#pragma once

#include "engine/pile_question.hpp"
#include "io/json.hpp"

namespace beetwright::io {

/// Adds "probes", "learned" and "next_probes" to a pile's answer. docs/formats/api.md.
void add_probes_json(const engine::PileAnswer& answer, Json& json);

}  // namespace beetwright::io
