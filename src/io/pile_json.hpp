// What a pile's questions answer, for programs. docs/formats/api.md.
#pragma once

#include <string>
#include <vector>

#include "engine/pile_question.hpp"

namespace beetwright::io {

std::string pile_json(const engine::PileAnswer& answer, const std::string& currency);
/// Without pictures and bands of parts.
std::string piles_json(const std::vector<engine::PileLine>& lines, const std::string& currency);

}  // namespace beetwright::io
