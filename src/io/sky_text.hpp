// The hours of the coming days that are fit for lifting, for people at a terminal and for programs.
#pragma once

#include <string>

#include "base/unit.hpp"
#include "engine/sky_question.hpp"

namespace beetwright::io {

std::string sky_text(const engine::SkyAnswer& answer, UnitSystem units);
/// docs/formats/api.md.
std::string sky_json(const engine::SkyAnswer& answer);

}  // namespace beetwright::io
