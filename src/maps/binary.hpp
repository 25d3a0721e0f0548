// Numbers in files that are not text.
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace beetwright::maps {

/// A whole number without a sign, its least significant byte first; the caller has looked whether
/// it is all there.
template <class Whole>
Whole little_endian(std::string_view bytes, std::size_t at) {
    Whole number = 0;
    for (std::size_t k = sizeof(Whole); k > 0; --k) {
        number = static_cast<Whole>((number << 8U) | static_cast<unsigned char>(bytes[at + k - 1]));
    }
    return number;
}

/// The same, its most significant byte first.
inline std::uint32_t big_endian(std::string_view bytes, std::size_t at) {
    std::uint32_t number = 0;
    for (std::size_t k = 0; k < sizeof number; ++k) {
        number = (number << 8U) | static_cast<unsigned char>(bytes[at + k]);
    }
    return number;
}

inline double little_endian_double(std::string_view bytes, std::size_t at) {
    return std::bit_cast<double>(little_endian<std::uint64_t>(bytes, at));
}

}  // namespace beetwright::maps
