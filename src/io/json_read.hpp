// Reads JSON as RFC 8259 has it.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "io/json.hpp"

namespace beetwright::io {

/// Problems: a name that stands twice in one object, text that is not JSON, more nesting or values
/// than anybody writes.
Result<Json> parse_json(std::string_view text, const std::string& file);

}  // namespace beetwright::io
