// What is wrong, for programs.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"

namespace beetwright::io {

/// A stable name: "input", "conflict", "missing", "limit", "outside", "denied".
std::string_view key(ProblemKind kind);

/// `{"problems": [{"kind", "file", "line", "field", "what", "fix"}]}`; what is not known is left
/// out.
std::string problems_json(const Problems& problems);

}  // namespace beetwright::io
