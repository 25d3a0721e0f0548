// Text, or a file in a string, as the bytes that a column takes.
#pragma once

#include <cstdint>
#include <span>
#include <string>

namespace beetwright::records {

/// Of a text that lives as long as the statement it is bound to.
inline std::span<const std::uint8_t> as_bytes(const std::string& text) {
    return {reinterpret_cast<const std::uint8_t*>(text.data()), text.size()};
}

}  // namespace beetwright::records
