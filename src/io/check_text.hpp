// What a check proves, for people and for programs.
#pragma once

#include <string>

#include "engine/check_question.hpp"
#include "engine/crowns_question.hpp"
#include "engine/enough_question.hpp"

namespace beetwright::io {

std::string check_text(const engine::CheckAnswer& answer);
std::string check_json(const engine::CheckAnswer& answer);
std::string enough_json(const engine::EnoughAnswer& answer);
std::string crowns_json(const engine::CrownsAnswer& answer);

/// Two counts typed in by hand.
std::string change_json(const check::ChangeAnswer& answer);

}  // namespace beetwright::io
