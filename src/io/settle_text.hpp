// A settlement for people and for programs.
#pragma once

#include <string>

#include "engine/settle_question.hpp"

namespace beetwright::io {

std::string settle_text(const engine::SettleAnswer& answer, const std::string& currency);
std::string settle_json(const engine::SettleAnswer& answer, const std::string& currency);

/// "1 234.56"; cents are exact.
std::string cents_text(worth::Cents cents);

}  // namespace beetwright::io
