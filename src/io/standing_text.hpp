// What stands in a field, for people at a terminal and for programs.
#pragma once

#include <string>

#include "base/unit.hpp"
#include "engine/standing_question.hpp"

namespace beetwright::io {

std::string standing_text(const engine::StandingAnswer& answer, const std::string& currency,
                          UnitSystem units);
/// Always metric, the unit in each name. docs/formats/api.md.
std::string standing_json(const engine::StandingAnswer& answer, const std::string& currency);

}  // namespace beetwright::io
