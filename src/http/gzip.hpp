// Text made shorter for the network. The library that does it is seen in gzip.cpp alone.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace beetwright::http {

/// The text in gzip's format (RFC 1952), the same for the same text. Nothing where there is no
/// memory for it.
std::optional<std::string> gzipped(std::string_view text);

}  // namespace beetwright::http
