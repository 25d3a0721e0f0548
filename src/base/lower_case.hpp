// Letters written small, so that words can be compared whichever way they were typed.
#pragma once

#include <string>
#include <string_view>

namespace beetwright {

/// A to Z written small; all else as it is, whatever the machine's language.
inline std::string lower_case(std::string_view text) {
    std::string lower(text);
    for (char& c : lower) {
        c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return lower;
}

}  // namespace beetwright
