// Texts put together from a pattern with holes. The formatting library does the same and more, and
// is a twentieth of what a browser fetches: what is shown there is filled in here.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <string>
#include <string_view>

namespace beetwright::io {

/// A text with a hole `{}` for each piece in turn, or `{0}` to `{9}` by the piece's number; one
/// that asks for other pieces than it gets does not compile.
template <std::size_t pieces>
class Pattern {
 public:
    // A pattern is written where it is filled.
    consteval Pattern(const char* text) : text_(text) {
        std::size_t in_turn = 0;
        std::size_t by_number = 0;
        for (std::size_t at = 0; at < text_.size(); ++at) {
            if (text_[at] != '{') {
                continue;
            }
            if (text_.substr(at, 2) == "{}") {
                ++in_turn;
            } else if (text_[at + 1] >= '0' && text_[at + 1] <= '9' && text_[at + 2] == '}') {
                const auto number = static_cast<std::size_t>(text_[at + 1] - '0');
                by_number = number + 1 > by_number ? number + 1 : by_number;
            } else {
                a_hole_is_written_otherwise();
            }
        }
        if (in_turn + by_number != pieces || (in_turn > 0 && by_number > 0)) {
            there_are_as_many_holes_as_pieces();
        }
    }
    [[nodiscard]] std::string_view text() const { return text_; }

 private:
    // Not for compile time, so that their names stand in the compiler's message.
    static void a_hole_is_written_otherwise() {}
    static void there_are_as_many_holes_as_pieces() {}

    std::string_view text_;
};

std::string fill_holes(std::string_view pattern, std::span<const std::string_view> pieces);

/// The pattern with text in its holes.
template <class... Pieces>
std::string filled(Pattern<sizeof...(Pieces)> pattern, const Pieces&... pieces) {
    const std::array<std::string_view, sizeof...(Pieces)> views{pieces...};
    return fill_holes(pattern.text(), views);
}

}  // namespace beetwright::io
