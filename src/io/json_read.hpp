// Reads JSON as RFC 8259 has it.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "io/json.hpp"

namespace beetwright::io {

/// Nothing that people write by hand comes near these. Without them a few MB of brackets would be
/// hundreds once parsed, and end in more calls one in another than there is room for; and many
/// names in one object take time by the square of their number.
struct JsonLimits {
    int deepest = 32;  ///< brackets one in another
    int most_values = 10'000;
};

/// Problems: a name that stands twice in one object, text that is not JSON, more nesting or values
/// than the limits let through.
Result<Json> parse_json(std::string_view text, const std::string& file,
                        const JsonLimits& limits = {});

}  // namespace beetwright::io
