// Sentences under a heading, as a terminal shows them.
#pragma once

#include <string>
#include <vector>

namespace beetwright::io {

/// Each on a line of its own; nothing at all where there are none.
inline std::string list_text(const std::string& head, const std::vector<std::string>& lines) {
    std::string text;
    for (const auto& line : lines) {
        text += (text.empty() ? head + "\n" : "") + "  " + line + "\n";
    }
    return text;
}

}  // namespace beetwright::io
