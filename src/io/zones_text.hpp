// A field's zones on a terminal, and for programs.
#pragma once

#include <string>

#include "base/unit.hpp"
#include "engine/zones_question.hpp"
#include "io/json.hpp"

namespace beetwright::io {

std::string zones_text(const engine::ZonesAnswer& answer, const std::string& currency,
                       UnitSystem units);
/// docs/formats/api.md.
Json zones_answer_json(const engine::ZonesAnswer& answer, const std::string& currency);
std::string zones_json(const engine::ZonesAnswer& answer, const std::string& currency);

}  // namespace beetwright::io
