// The bytes of a text file as UTF-8, whatever a spreadsheet saved them as.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"

namespace beetwright::io {

bool is_utf8(std::string_view bytes);

/// UTF-8 text, without a byte-order mark. It points into the bytes when they are UTF-8 already, and
/// into `decoded` when they had to be translated from Windows-1252. UTF-16 and files that hold no
/// text are refused; the problem names `file`.
Result<std::string_view> as_utf8(std::string_view bytes, std::string& decoded,
                                 const std::string& file);

}  // namespace beetwright::io
