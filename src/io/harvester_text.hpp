// How to set a harvester and what to change next: on a terminal and for programs.
#pragma once

#include <string>

#include "base/unit.hpp"
#include "engine/harvester_question.hpp"

namespace beetwright::io {

std::string setup_text(const engine::SetupAnswer& answer, const std::string& currency,
                       UnitSystem units);
std::string setup_json(const engine::SetupAnswer& answer, const std::string& currency);

std::string advice_text(const engine::AdviceAnswer& answer, const std::string& currency,
                        UnitSystem units);
std::string advice_json(const engine::AdviceAnswer& answer, const std::string& currency);

}  // namespace beetwright::io
