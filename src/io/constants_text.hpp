// The catalogue of constants for people and for programs.
#pragma once

#include <string>
#include <string_view>

#include "base/catalogue.hpp"

namespace beetwright::io {

/// Every constant whose id starts with `start`: value, unit, 90 % range, how known, words, source.
std::string constants_text(const Catalogue& catalogue, std::string_view start);
/// The same as a JSON array.
std::string constants_json(const Catalogue& catalogue, std::string_view start);

}  // namespace beetwright::io
