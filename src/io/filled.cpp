#include "io/filled.hpp"

namespace beetwright::io {

std::string fill_holes(std::string_view pattern, std::span<const std::string_view> pieces) {
    std::string text;
    std::size_t next = 0;
    for (;;) {
        const auto hole = pattern.find('{');
        text += pattern.substr(0, hole);
        if (hole == std::string_view::npos) {
            return text;
        }
        const char number = pattern[hole + 1];
        text += pieces[number == '}' ? next++ : static_cast<std::size_t>(number - '0')];
        pattern.remove_prefix(hole + (number == '}' ? 2 : 3));
    }
}

}  // namespace beetwright::io
