#include "base/uuid.hpp"

#include "base/random.hpp"

namespace beetwright {
namespace {

constexpr std::array<std::size_t, 4> kHyphens{8, 13, 18, 23};
constexpr std::size_t kTextLength = 36;

bool is_hyphen_place(std::size_t i) {
    for (const std::size_t place : kHyphens) {
        if (place == i) {
            return true;
        }
    }
    return false;
}

int hex_value(char c) {
    if (c >= '0' && c <= '9') {
        return c - '0';
    }
    if (c >= 'a' && c <= 'f') {
        return c - 'a' + 10;
    }
    if (c >= 'A' && c <= 'F') {
        return c - 'A' + 10;
    }
    return -1;
}

/// Sets the version in the top of byte 6 and the variant (binary 10) in the top of byte 8.
Uuid stamped(std::array<std::uint8_t, 16> bytes, unsigned version) {
    bytes[6] = static_cast<std::uint8_t>((bytes[6] & 0x0FU) | (version << 4U));
    bytes[8] = static_cast<std::uint8_t>((bytes[8] & 0x3FU) | 0x80U);
    return Uuid(bytes);
}

void put(std::array<std::uint8_t, 16>& bytes, std::size_t first, std::size_t count,
         std::uint64_t value) {
    for (std::size_t i = 0; i < count; ++i) {
        bytes[first + i] = static_cast<std::uint8_t>(value >> (8U * (count - 1 - i)));
    }
}

}  // namespace

Uuid Uuid::version7(Instant made_at, std::uint64_t random_high, std::uint64_t random_low) {
    std::array<std::uint8_t, 16> bytes{};
    put(bytes, 0, 6, static_cast<std::uint64_t>(made_at.time_since_epoch().count()));
    put(bytes, 6, 2, random_high);
    put(bytes, 8, 8, random_low);
    return stamped(bytes, 7);
}

Uuid Uuid::from_text(std::string_view text) {
    std::array<std::uint8_t, 16> bytes{};
    // Two hashes that share nothing but the text.
    put(bytes, 0, 8, stable_hash(text));
    put(bytes, 8, 8, stable_hash(std::string(text) + '\x1f'));
    return stamped(bytes, 8);
}

std::optional<Uuid> Uuid::parse(std::string_view text) {
    if (text.size() != kTextLength) {
        return std::nullopt;
    }
    std::array<std::uint8_t, 16> bytes{};
    std::size_t nibble = 0;
    for (std::size_t i = 0; i < kTextLength; ++i) {
        if (is_hyphen_place(i)) {
            if (text[i] != '-') {
                return std::nullopt;
            }
            continue;
        }
        const int value = hex_value(text[i]);
        if (value < 0) {
            return std::nullopt;
        }
        auto& byte = bytes[nibble / 2];
        byte = static_cast<std::uint8_t>((byte << 4U) | value);
        ++nibble;
    }
    return Uuid(bytes);
}

std::string Uuid::text() const {
    constexpr std::string_view digits = "0123456789abcdef";
    std::string out;
    out.reserve(kTextLength);
    for (const std::uint8_t byte : bytes_) {
        if (is_hyphen_place(out.size())) {
            out += '-';
        }
        out += digits[byte >> 4U];
        out += digits[byte & 0x0FU];
    }
    return out;
}

}  // namespace beetwright
