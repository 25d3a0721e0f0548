// In which order piles are sliced, for people at a terminal and for programs.
#pragma once

#include <string>

#include "base/unit.hpp"
#include "engine/pile_order_question.hpp"

namespace beetwright::io {

std::string pile_order_text(const engine::PileOrderAnswer& answer, const std::string& currency,
                            UnitSystem units);
/// docs/formats/api.md.
std::string pile_order_json(const engine::PileOrderAnswer& answer, const std::string& currency);

}  // namespace beetwright::io
