// Ids that the observer makes where the thing was seen, so that the same observation sent twice is
// one. UUID version 7 (RFC 9562 section 5.7): 48 bits of time first, so ids sort by when they were
// made, then 74 random bits.
#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "base/time.hpp"

namespace beetwright {

class Uuid {
 public:
    constexpr Uuid() = default;
    constexpr explicit Uuid(std::array<std::uint8_t, 16> bytes) : bytes_(bytes) {}

    /// A version 7 id. The caller brings the time and 128 random bits, of which 74 are used.
    static Uuid version7(Instant made_at, std::uint64_t random_high, std::uint64_t random_low);
    /// A version 8 id (RFC 9562 section 5.8) that is a function of the text alone: a row of a
    /// spreadsheet without an id gets one from its table and its key, so importing it twice is one
    /// row.
    static Uuid from_text(std::string_view text);
    /// Reads `xxxxxxxx-xxxx-xxxx-xxxx-xxxxxxxxxxxx`, upper or lower case.
    static std::optional<Uuid> parse(std::string_view text);

    [[nodiscard]] std::string text() const;
    /// Its beginning, for people: enough to tell the ids of a season apart, `017f22e2-79b0`.
    [[nodiscard]] std::string short_text() const { return text().substr(0, 13); }
    [[nodiscard]] constexpr const std::array<std::uint8_t, 16>& bytes() const { return bytes_; }
    [[nodiscard]] constexpr int version() const { return bytes_[6] >> 4; }
    [[nodiscard]] constexpr bool is_nil() const { return bytes_ == std::array<std::uint8_t, 16>{}; }

    friend constexpr auto operator<=>(const Uuid&, const Uuid&) = default;

 private:
    std::array<std::uint8_t, 16> bytes_{};
};

/// An id of one kind of thing: an Id<Field> is not an Id<Machine>.
template <class Of>
struct Id {
    Uuid uuid;
    friend constexpr auto operator<=>(const Id&, const Id&) = default;
};

}  // namespace beetwright
