// What a pile's questions answer, for people at a terminal.
#pragma once

#include <string>
#include <vector>

#include "base/unit.hpp"
#include "engine/pile_question.hpp"

namespace beetwright::io {

std::string pile_text(const engine::PileAnswer& answer, const std::string& currency,
                      UnitSystem units);
std::string piles_text(const std::vector<engine::PileLine>& lines, UnitSystem units);

}  // namespace beetwright::io
