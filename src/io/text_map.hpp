// A JSON object whose values are all text: files by name, parameters by name.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace beetwright::io {

/// Problems: not JSON, not an object, a value that is not text, a name that stands twice. `what`
/// names the text in problems.
Result<std::map<std::string, std::string>> read_text_map(std::string_view json,
                                                         const std::string& what);
std::string text_map_json(const std::map<std::string, std::string>& texts);

}  // namespace beetwright::io
