// Numbers of things, in words.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace beetwright {

/// "1 beet", "12 beets".
inline std::string counted(std::size_t number, std::string_view one, std::string_view many) {
    std::string text = std::to_string(number);
    text += ' ';
    text += number == 1 ? one : many;
    return text;
}

}  // namespace beetwright
