// A hash of an observation's content, to tell a repetition from a contradiction.
#pragma once

#include <bit>
#include <cmath>
#include <cstdint>
#include <string_view>

#include "base/random.hpp"
#include "base/uuid.hpp"
#include "check/machine_log.hpp"
#include "check/pile_log.hpp"
#include "check/sheet.hpp"

namespace beetwright::records {

/// Feeds values one after another into a 64-bit hash. Every NaN counts as the same.
class Fingerprint {
 public:
    Fingerprint& add(std::uint64_t word) {
        hash_ = (hash_ ^ word) * 0x9E3779B97F4A7C15U;
        hash_ ^= hash_ >> 29U;
        return *this;
    }
    Fingerprint& add(double value) {
        return add(std::isnan(value) ? ~std::uint64_t{0} : std::bit_cast<std::uint64_t>(value));
    }
    Fingerprint& add(std::string_view text) { return add(stable_hash(text)); }
    Fingerprint& add(const Uuid& id) {
        for (const auto byte : id.bytes()) {
            add(std::uint64_t{byte});
        }
        return *this;
    }

    Fingerprint& add(const check::CountedBeet& b) {
        const auto code = [](auto value) { return static_cast<std::uint64_t>(value); };
        const auto classes = (code(b.topping) << 16U) | (code(b.rot) << 8U) | code(b.frost);
        add((code(static_cast<std::uint32_t>(b.spot)) << 32U) | classes);
        return add(b.scar.si()).add(b.tip.from.si()).add(b.tip.to.si()).add(b.skin_damage.si());
    }

    Fingerprint& add(const check::SetControl& set) {
        return add(std::string_view(set.control)).add(set.value);
    }

    Fingerprint& add(const check::Stretch& stretch) {
        return add(stretch.from.si()).add(stretch.to.si());
    }

    /// As the file stores it: SQLite's integers are signed.
    [[nodiscard]] std::int64_t value() const { return std::bit_cast<std::int64_t>(hash_); }

 private:
    std::uint64_t hash_ = 0xCBF29CE484222325U;
};

}  // namespace beetwright::records
