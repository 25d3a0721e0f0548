// Small texts of JSON for programs, without the library behind them in the header.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"

namespace beetwright::io {

/// The text as a JSON string, in quotes; bytes that are not UTF-8 become replacement marks.
std::string json_string(std::string_view text);
/// The shortest JSON number that reads back the same; null where it is not finite.
std::string json_number(double number);
/// `{"problems": [{"kind", "file", "line", "field", "what", "fix"}, ...]}`, indented.
std::string json_problems(const Problems& problems);

}  // namespace beetwright::io
