// The bytes of a text file as UTF-8, whatever a spreadsheet saved them as.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace beetwright::io {

bool is_utf8(std::string_view bytes);
/// How many bytes stand before the first that is not UTF-8.
std::size_t utf8_prefix(std::string_view bytes);
/// Bytes of the character beyond ASCII that starts here; 0 where none does.
std::size_t utf8_length(std::string_view bytes, std::size_t at);
void append_utf8(std::string& text, unsigned code);

/// UTF-8 text, without a byte-order mark. It points into the bytes when they are UTF-8 already, and
/// into `decoded` when they had to be translated from Windows-1252. UTF-16 and files that hold no
/// text are refused; the problem names `file`.
Result<std::string_view> as_utf8(std::string_view bytes, std::string& decoded,
                                 const std::string& file);

}  // namespace beetwright::io
